DROP TRIGGER reservations_never_change_delete;
DROP TRIGGER reservations_end_once_update;
DROP TABLE work_entries;
DROP TABLE reservations;
DROP TABLE operations;
DROP TABLE needs;
DROP TABLE garments;
