DROP INDEX work_entries_by_day;
DROP TABLE overhead_spent;
