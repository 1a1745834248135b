DROP TRIGGER reservations_set_stays_update;
DROP TRIGGER reservations_of_one_lot_update;
DROP TRIGGER reservations_of_one_lot_insert;
DROP INDEX reservations_by_set;
ALTER TABLE reservations DROP COLUMN set_id;
