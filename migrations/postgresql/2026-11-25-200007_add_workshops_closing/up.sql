-- Nothing is booked on closed_to or before it. version counts the changes of settings and rates; the last one is described.
ALTER TABLE workshops ADD COLUMN closed_to DATE;
ALTER TABLE workshops ADD COLUMN version BIGINT NOT NULL DEFAULT 0 CHECK (version >= 0);
ALTER TABLE workshops ADD COLUMN changed_by TEXT;
ALTER TABLE workshops ADD COLUMN changed_at TIMESTAMP;
ALTER TABLE workshops ADD COLUMN changed_what TEXT;
CREATE FUNCTION stay_in_open_books() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF NEW.on_date <= (SELECT closed_to FROM workshops WHERE id = 1) THEN
        RAISE EXCEPTION 'closed books are never changed' USING ERRCODE = 'check_violation';
    END IF;
    RETURN NEW;
END $$;
CREATE TRIGGER bookings_stay_in_open_books BEFORE INSERT ON bookings
FOR EACH ROW EXECUTE FUNCTION stay_in_open_books();
CREATE INDEX booking_subjects_by_booking ON booking_subjects (booking_id);
