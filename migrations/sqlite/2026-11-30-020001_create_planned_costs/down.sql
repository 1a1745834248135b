DROP TABLE planned_costs;
