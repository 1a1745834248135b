DROP TABLE cuts;
DROP TABLE reservations;
