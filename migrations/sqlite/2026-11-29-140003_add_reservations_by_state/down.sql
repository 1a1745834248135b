CREATE INDEX reservations_by_need ON reservations (need_id);
DROP INDEX reservations_by_need_state;
