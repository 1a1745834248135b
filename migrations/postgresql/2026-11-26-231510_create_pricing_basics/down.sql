DROP INDEX work_entries_by_operation;
ALTER TABLE work_entries DROP COLUMN operation_search;
DROP INDEX garments_by_name;
ALTER TABLE garments DROP COLUMN name_search;
DROP TABLE usual_operations;
DROP TABLE yearly_figures;
