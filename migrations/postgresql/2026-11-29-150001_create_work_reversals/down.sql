DROP TABLE work_reversals;
DROP FUNCTION work_reversals_never_change();
