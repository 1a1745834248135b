DROP INDEX pool_takings_by_lot;
DROP TABLE pool_takings;
DROP INDEX pool_shares_by_layer;
DROP TABLE pool_shares;
