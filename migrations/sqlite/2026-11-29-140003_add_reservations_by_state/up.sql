-- A garment's active promises are found without those that ended.
CREATE INDEX reservations_by_need_state ON reservations (need_id, state);
DROP INDEX reservations_by_need;
