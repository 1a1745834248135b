DROP TABLE work_reversals;
