-- Garments, what they need, and the work on them. detail: the named feature of a garment (a hand-rolled hem) that owns a need, an
-- operation or minutes; detail_search: its name without its capitals, by which it is found on other garments.
CREATE TABLE garments (
    id BIGINT PRIMARY KEY NOT NULL,
    name TEXT NOT NULL CHECK (name <> ''),
    customer_id BIGINT REFERENCES customers (id),
    count BIGINT NOT NULL CHECK (count BETWEEN 1 AND 10000),
    good BIGINT CHECK (good >= 0),
    spoiled BIGINT CHECK (spoiled >= 0),
    spoilage TEXT CHECK (spoilage IN ('normal', 'own-mistake')),
    salvage BIGINT NOT NULL CHECK (salvage BETWEEN 0 AND 1000000000000000),
    due DATE,
    state TEXT NOT NULL CHECK (state IN ('planned', 'cut-into', 'finished', 'delivered', 'cancelled')),
    note TEXT,
    name_search TEXT NOT NULL,
    CHECK (good IS NULL OR spoiled IS NULL OR good + spoiled = count)
);
CREATE INDEX garments_by_customer ON garments (customer_id);
CREATE INDEX garments_by_name ON garments (name_search, id);

-- need: what is planned for one garment, as the JSON of the domain's own type. same_lot_as: the garment whose lot the need must be
-- of: when that one moves to another lot, the promises of this need are looked at again.
CREATE TABLE needs (
    id BIGINT PRIMARY KEY NOT NULL,
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    role TEXT NOT NULL CHECK (role <> ''),
    kind TEXT NOT NULL CHECK (kind IN ('cloth', 'lining', 'interlining', 'thread', 'trim')),
    need TEXT NOT NULL,
    units BIGINT NOT NULL CHECK (units > 0),
    estimate BIGINT CHECK (estimate BETWEEN 0 AND 1000000000000000),
    dropped BOOLEAN NOT NULL,
    detail TEXT CHECK (detail <> ''),
    detail_search TEXT CHECK (detail_search <> '' AND (detail IS NULL) = (detail_search IS NULL)),
    same_lot_as BIGINT REFERENCES garments (id)
);
CREATE UNIQUE INDEX needs_by_garment ON needs (garment_id, role);
CREATE INDEX needs_by_detail ON needs (detail_search, garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX needs_with_detail ON needs (garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX needs_by_same_lot ON needs (same_lot_as) WHERE same_lot_as IS NOT NULL;

-- Lays that are kept. laid: the parts and what all rungs have in common, as the JSON of the domain's own type, with its format. They
-- are of the parts that the need had when they were kept.
CREATE TABLE lays (
    id BIGINT PRIMARY KEY NOT NULL,
    need_id BIGINT NOT NULL REFERENCES needs (id),
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    laid TEXT NOT NULL CHECK (laid <> ''),
    note TEXT CHECK (note <> '')
);
CREATE INDEX lays_by_need ON lays (need_id);
CREATE INDEX lays_by_booking ON lays (booking_id);
CREATE INDEX lays_undone ON lays (undone_by) WHERE undone_by IS NOT NULL;

-- Where the parts of a lay lie from a usable width on, and the length that they take; placements: JSON of the domain's own type.
CREATE TABLE lay_rungs (
    lay_id BIGINT NOT NULL REFERENCES lays (id),
    usable_um BIGINT NOT NULL CHECK (usable_um BETWEEN 1 AND 100000000),
    length_um BIGINT NOT NULL CHECK (length_um BETWEEN 1 AND 1000000000),
    placements TEXT NOT NULL CHECK (placements <> ''),
    PRIMARY KEY (lay_id, usable_um)
);

CREATE TABLE operations (
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    name TEXT NOT NULL CHECK (name <> ''),
    position BIGINT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('machine', 'hand', 'cutting', 'fitting', 'pressing', 'admin')),
    minutes BIGINT NOT NULL CHECK (minutes BETWEEN 0 AND 10000000),
    person_id BIGINT NOT NULL REFERENCES people (id),
    billable BOOLEAN NOT NULL,
    detail TEXT CHECK (detail <> ''),
    detail_search TEXT CHECK (detail_search <> '' AND (detail IS NULL) = (detail_search IS NULL)),
    PRIMARY KEY (garment_id, name)
);
CREATE INDEX operations_by_detail ON operations (detail_search, garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX operations_with_detail ON operations (garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX operations_of_person ON operations (person_id);

-- What is sewn on one garment of a plan. stitch: a number of ISO 4915, a hand stitch or a counted item; needle, under: roles
-- of the threads; seam: the rest as it was typed, JSON.
CREATE TABLE seams (
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    name TEXT NOT NULL CHECK (name <> ''),
    position BIGINT NOT NULL CHECK (position >= 0),
    stitch TEXT NOT NULL CHECK (stitch <> ''),
    count BIGINT NOT NULL CHECK (count BETWEEN 1 AND 10000),
    length_um BIGINT CHECK (length_um BETWEEN 1 AND 10000000000000),
    needle TEXT NOT NULL CHECK (needle <> ''),
    under TEXT NOT NULL CHECK (under <> ''),
    seam TEXT NOT NULL CHECK (seam <> ''),
    detail TEXT CHECK (detail <> ''),
    PRIMARY KEY (garment_id, name)
);

-- What is added to the thread of a plan's seams, where it is not the usual: a tail at each start and finish, and the share
-- that is wasted.
CREATE TABLE seam_allowances (
    garment_id BIGINT PRIMARY KEY NOT NULL REFERENCES garments (id),
    ends_um BIGINT NOT NULL CHECK (ends_um BETWEEN 0 AND 1000000),
    waste_ppm BIGINT NOT NULL CHECK (waste_ppm BETWEEN 0 AND 1000000)
);

-- What a detail was worth on a garment that was made, from 1 to 5. booking_id: the booking that rated it last.
CREATE TABLE detail_ratings (
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    name_search TEXT NOT NULL CHECK (name_search <> ''),
    name TEXT NOT NULL CHECK (name <> ''),
    rating BIGINT NOT NULL CHECK (rating BETWEEN 1 AND 5),
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    PRIMARY KEY (garment_id, name_search)
);
CREATE INDEX detail_ratings_by_name ON detail_ratings (name_search, garment_id);
CREATE INDEX detail_ratings_by_booking ON detail_ratings (booking_id);

-- Minutes worked. Past work is found by the names of garments and operations, whatever their capitals.
CREATE TABLE work_entries (
    id BIGINT PRIMARY KEY NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    operation TEXT NOT NULL CHECK (operation <> ''),
    operation_search TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('machine', 'hand', 'cutting', 'fitting', 'pressing', 'admin')),
    minutes BIGINT NOT NULL CHECK (minutes > 0),
    person_id BIGINT NOT NULL REFERENCES people (id),
    billable BOOLEAN NOT NULL,
    reason TEXT NOT NULL CHECK (reason IN ('planned', 'own-mistake', 'faulty-cloth', 'customer-change')),
    on_date DATE NOT NULL,
    detail TEXT CHECK (detail <> ''),
    detail_search TEXT CHECK (detail_search <> '' AND (detail IS NULL) = (detail_search IS NULL))
);
CREATE INDEX work_entries_by_booking ON work_entries (booking_id);
CREATE INDEX work_entries_by_operation ON work_entries (operation_search, garment_id);
CREATE INDEX work_entries_by_detail ON work_entries (detail_search, garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX work_entries_with_detail ON work_entries (garment_id) WHERE detail_search IS NOT NULL;
-- The work of a period is found by its days.
CREATE INDEX work_entries_by_day ON work_entries (on_date);
-- How long an operation took so far is the sum of its standing minutes, which this index answers without the entries.
CREATE INDEX work_entries_worked ON work_entries (garment_id, operation, undone_by, minutes);
CREATE INDEX work_entries_of_person ON work_entries (person_id);
CREATE INDEX work_entries_undone ON work_entries (undone_by) WHERE undone_by IS NOT NULL;

-- Minutes whose overhead is taken back, or given again: sign is -1 or 1. They count on on_date, which is the day of the work
-- unless that lay in closed books; cancelled: because their garment was given up, or that was taken back.
CREATE TABLE work_reversals (
    id BIGINT PRIMARY KEY NOT NULL,
    work_id BIGINT NOT NULL REFERENCES work_entries (id),
    on_date DATE NOT NULL,
    sign BIGINT NOT NULL CHECK (sign IN (-1, 1)),
    cancelled BOOLEAN NOT NULL
);
CREATE INDEX work_reversals_by_day ON work_reversals (on_date);
CREATE INDEX work_reversals_by_work ON work_reversals (work_id);

CREATE TRIGGER work_reversals_never_change_update BEFORE UPDATE ON work_reversals FOR EACH ROW
EXECUTE FUNCTION refuse('reversals of work are never changed');
CREATE TRIGGER work_reversals_never_change_delete BEFORE DELETE ON work_reversals FOR EACH ROW
EXECUTE FUNCTION refuse('reversals of work are never changed');
CREATE TRIGGER work_reversals_stay_in_open_books BEFORE INSERT ON work_reversals FOR EACH ROW
EXECUTE FUNCTION stay_in_open_books();
CREATE TRIGGER lays_never_change_update BEFORE UPDATE OF id, need_id, booking_id, laid, note ON lays FOR EACH ROW
EXECUTE FUNCTION refuse('lays are never changed');
CREATE TRIGGER lays_never_change_delete BEFORE DELETE ON lays FOR EACH ROW
EXECUTE FUNCTION refuse('lays are never changed');
CREATE TRIGGER lay_rungs_never_change_update BEFORE UPDATE ON lay_rungs FOR EACH ROW
EXECUTE FUNCTION refuse('lays are never changed');
CREATE TRIGGER lay_rungs_never_change_delete BEFORE DELETE ON lay_rungs FOR EACH ROW
EXECUTE FUNCTION refuse('lays are never changed');
