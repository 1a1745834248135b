DROP TRIGGER reservations_set_stays_update ON reservations;
DROP TRIGGER reservations_of_one_lot_update ON reservations;
DROP TRIGGER reservations_of_one_lot_insert ON reservations;
DROP FUNCTION reservations_set_stays();
DROP FUNCTION reservations_of_one_lot();
DROP INDEX reservations_by_set;
ALTER TABLE reservations DROP COLUMN set_id;
