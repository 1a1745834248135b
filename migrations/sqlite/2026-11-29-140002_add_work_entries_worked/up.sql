-- How long an operation took so far is the sum of its standing minutes, which this index answers without the entries.
CREATE INDEX work_entries_worked ON work_entries (garment_id, operation, undone, minutes);
DROP INDEX work_entries_by_garment;
