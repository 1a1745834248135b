DROP TABLE customers;
DROP TABLE suppliers;
DROP TABLE overhead_rates;
DROP TABLE pay_rates;
DROP TABLE counters;
DROP TABLE workshops;
