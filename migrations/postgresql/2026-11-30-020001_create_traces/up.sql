-- What a booking wrote over (`was`: JSON of what was there before), or what it rests on (no `was`).
CREATE TABLE traces (
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    facet TEXT NOT NULL CHECK (facet IN ('place', 'length', 'flaws', 'widths', 'preparation', 'tare', 'sheet', 'plan', 'garment', 'quotation', 'rating', 'books', 'charge')),
    subject_id BIGINT NOT NULL,
    part TEXT NOT NULL,
    was TEXT,
    PRIMARY KEY (booking_id, facet, subject_id, part)
);
CREATE INDEX traces_by_subject ON traces (facet, subject_id, part, booking_id);
