DROP TABLE planned_costs;
DROP TABLE cuts;
DROP TABLE reservations;
