DROP TABLE reservations;
