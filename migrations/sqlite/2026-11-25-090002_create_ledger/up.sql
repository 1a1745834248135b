-- Bookings, their movements, and the requests that asked for them. Nothing here is ever changed or deleted.
CREATE TABLE bookings (
    id INTEGER PRIMARY KEY NOT NULL,
    kind TEXT NOT NULL,
    summary TEXT NOT NULL,
    on_date DATE NOT NULL,
    booked_at TIMESTAMP NOT NULL,
    by_name TEXT NOT NULL,
    undoes BIGINT UNIQUE REFERENCES bookings (id),
    detail TEXT NOT NULL,
    CHECK (undoes IS NULL OR undoes <> id)
);

CREATE TABLE booking_subjects (
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    subject TEXT NOT NULL CHECK (subject IN ('garment', 'lot', 'purchase')),
    subject_id BIGINT NOT NULL,
    PRIMARY KEY (subject, subject_id, booking_id)
);

-- sequence is the only order. Quantities are micrometres or counts, values millionths of the currency.
CREATE TABLE movements (
    sequence INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    from_kind TEXT NOT NULL,
    from_id BIGINT NOT NULL,
    to_kind TEXT NOT NULL,
    to_id BIGINT NOT NULL,
    quantity_out BIGINT NOT NULL CHECK (quantity_out BETWEEN 0 AND 10000000000000),
    quantity_in BIGINT NOT NULL CHECK (quantity_in BETWEEN 0 AND 10000000000000),
    value BIGINT NOT NULL CHECK (value BETWEEN 0 AND 1000000000000000),
    CHECK (from_kind <> to_kind OR from_id <> to_id)
);
CREATE INDEX movements_by_booking ON movements (booking_id);
CREATE INDEX movements_by_from ON movements (from_kind, from_id);
CREATE INDEX movements_by_to ON movements (to_kind, to_id);

CREATE TABLE requests (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    act TEXT NOT NULL,
    caller TEXT NOT NULL,
    content TEXT NOT NULL,
    answer TEXT NOT NULL,
    answered_at TIMESTAMP NOT NULL
);

CREATE TRIGGER movements_never_change_update BEFORE UPDATE ON movements
BEGIN SELECT RAISE(ABORT, 'movements are never changed'); END;
CREATE TRIGGER movements_never_change_delete BEFORE DELETE ON movements
BEGIN SELECT RAISE(ABORT, 'movements are never changed'); END;
CREATE TRIGGER bookings_never_change_update BEFORE UPDATE ON bookings
BEGIN SELECT RAISE(ABORT, 'bookings are never changed'); END;
CREATE TRIGGER bookings_never_change_delete BEFORE DELETE ON bookings
BEGIN SELECT RAISE(ABORT, 'bookings are never changed'); END;
CREATE TRIGGER requests_never_change_update BEFORE UPDATE ON requests
BEGIN SELECT RAISE(ABORT, 'requests are never changed'); END;
CREATE TRIGGER requests_never_change_delete BEFORE DELETE ON requests
BEGIN SELECT RAISE(ABORT, 'requests are never changed'); END;
CREATE TRIGGER booking_subjects_never_change_update BEFORE UPDATE ON booking_subjects
BEGIN SELECT RAISE(ABORT, 'subjects of bookings are never changed'); END;
CREATE TRIGGER booking_subjects_never_change_delete BEFORE DELETE ON booking_subjects
BEGIN SELECT RAISE(ABORT, 'subjects of bookings are never changed'); END;
