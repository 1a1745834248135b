DROP TRIGGER reservations_never_change_delete ON reservations;
DROP FUNCTION reservations_never_change();
DROP TRIGGER reservations_end_once_update ON reservations;
DROP FUNCTION reservations_end_once();
DROP TABLE work_entries;
DROP TABLE reservations;
DROP TABLE operations;
DROP TABLE needs;
DROP TABLE garments;
