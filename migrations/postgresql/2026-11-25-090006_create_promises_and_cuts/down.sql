DROP TABLE cuts;
DROP TABLE reservations;
DROP FUNCTION reservations_of_one_lot();
