DROP INDEX booking_subjects_by_booking;
DROP TRIGGER bookings_stay_in_open_books;
ALTER TABLE workshops DROP COLUMN changed_what;
ALTER TABLE workshops DROP COLUMN changed_at;
ALTER TABLE workshops DROP COLUMN changed_by;
ALTER TABLE workshops DROP COLUMN version;
ALTER TABLE workshops DROP COLUMN closed_to;
