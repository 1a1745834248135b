-- Garments, what they need, what is promised to them, and the work on them.
CREATE TABLE garments (
    id INTEGER PRIMARY KEY NOT NULL,
    name TEXT NOT NULL CHECK (name <> ''),
    customer_id BIGINT REFERENCES customers (id),
    count BIGINT NOT NULL CHECK (count BETWEEN 1 AND 10000),
    good BIGINT CHECK (good >= 0),
    spoiled BIGINT CHECK (spoiled >= 0),
    spoilage TEXT,
    salvage BIGINT NOT NULL CHECK (salvage BETWEEN 0 AND 1000000000000000),
    due DATE,
    state TEXT NOT NULL CHECK (state IN ('planned', 'cut-into', 'finished', 'delivered', 'cancelled')),
    note TEXT,
    CHECK (good IS NULL OR spoiled IS NULL OR good + spoiled = count)
);
CREATE INDEX garments_by_customer ON garments (customer_id);

CREATE TABLE needs (
    id INTEGER PRIMARY KEY NOT NULL,
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    role TEXT NOT NULL CHECK (role <> ''),
    kind TEXT NOT NULL CHECK (kind IN ('cloth', 'interlining', 'thread', 'trim')),
    need TEXT NOT NULL,
    units BIGINT NOT NULL CHECK (units > 0),
    units_cut BIGINT NOT NULL CHECK (units_cut >= 0),
    estimate BIGINT CHECK (estimate BETWEEN 0 AND 1000000000000000),
    dropped BOOLEAN NOT NULL
);
CREATE UNIQUE INDEX needs_by_garment ON needs (garment_id, role);

CREATE TABLE operations (
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    name TEXT NOT NULL CHECK (name <> ''),
    position BIGINT NOT NULL,
    kind TEXT NOT NULL,
    minutes BIGINT NOT NULL CHECK (minutes BETWEEN 0 AND 10000000),
    person TEXT NOT NULL,
    billable BOOLEAN NOT NULL,
    PRIMARY KEY (garment_id, name)
);

-- A promise leaves 'active' exactly once; then it holds nothing. asked: what was asked and the sum, as JSON.
CREATE TABLE reservations (
    id INTEGER PRIMARY KEY NOT NULL,
    need_id BIGINT NOT NULL REFERENCES needs (id),
    piece_id BIGINT NOT NULL REFERENCES pieces (id),
    state TEXT NOT NULL CHECK (state IN ('active', 'cut', 'released', 'expired', 'broken')),
    units BIGINT NOT NULL CHECK (units >= 0),
    held BIGINT NOT NULL CHECK (held BETWEEN 0 AND 10000000000000),
    stretch BIGINT NOT NULL CHECK (stretch >= 0),
    asked TEXT NOT NULL,
    promised DATE NOT NULL,
    until DATE,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    ended_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    ended_because TEXT,
    CHECK (state = 'active' OR held = 0),
    CHECK (state <> 'active' OR held > 0),
    CHECK ((state = 'active') = (ended_by IS NULL))
);
CREATE INDEX reservations_by_need ON reservations (need_id);
CREATE INDEX reservations_by_piece ON reservations (piece_id) WHERE state = 'active';

-- rate: ten-thousandths an hour on that day; overhead: millionths over minutes on that day.
CREATE TABLE work_entries (
    id INTEGER PRIMARY KEY NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    operation TEXT NOT NULL CHECK (operation <> ''),
    kind TEXT NOT NULL,
    minutes BIGINT NOT NULL CHECK (minutes > 0),
    person TEXT NOT NULL,
    billable BOOLEAN NOT NULL,
    reason TEXT NOT NULL,
    on_date DATE NOT NULL,
    undone BOOLEAN NOT NULL
);
CREATE INDEX work_entries_by_garment ON work_entries (garment_id);
CREATE INDEX work_entries_by_booking ON work_entries (booking_id);

CREATE TRIGGER reservations_end_once_update BEFORE UPDATE ON reservations
WHEN OLD.state <> 'active'
BEGIN SELECT RAISE(ABORT, 'a promise ends exactly once'); END;
CREATE TRIGGER reservations_never_change_delete BEFORE DELETE ON reservations
BEGIN SELECT RAISE(ABORT, 'promises are never deleted'); END;
