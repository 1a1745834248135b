CREATE INDEX work_entries_by_garment ON work_entries (garment_id);
DROP INDEX work_entries_worked;
