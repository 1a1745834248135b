-- Nothing is booked on closed_to or before it. version counts the changes of settings and rates; the last one is described.
ALTER TABLE workshops ADD COLUMN closed_to DATE;
ALTER TABLE workshops ADD COLUMN version BIGINT NOT NULL DEFAULT 0 CHECK (version >= 0);
ALTER TABLE workshops ADD COLUMN changed_by TEXT;
ALTER TABLE workshops ADD COLUMN changed_at TIMESTAMP;
ALTER TABLE workshops ADD COLUMN changed_what TEXT;
CREATE TRIGGER bookings_stay_in_open_books BEFORE INSERT ON bookings
WHEN NEW.on_date <= (SELECT closed_to FROM workshops WHERE id = 1)
BEGIN SELECT RAISE(ABORT, 'closed books are never changed'); END;
CREATE INDEX booking_subjects_by_booking ON booking_subjects (booking_id);
