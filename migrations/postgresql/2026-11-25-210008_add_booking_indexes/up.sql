-- A booking that is written after the rows that name it makes the database look for them: without an index it reads the
-- whole table.
CREATE INDEX reservations_by_booking ON reservations (booking_id);
CREATE INDEX reservations_by_end ON reservations (ended_by) WHERE ended_by IS NOT NULL;
CREATE INDEX purchases_by_booking ON purchases (booking_id);
CREATE INDEX purchase_charges_by_booking ON purchase_charges (booking_id);
CREATE INDEX wash_tests_by_booking ON wash_tests (booking_id);
CREATE INDEX lots_by_owner ON lots (owner_id) WHERE owner_id IS NOT NULL;
