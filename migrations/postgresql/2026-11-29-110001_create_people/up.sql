-- A person is a row: tokens, hours, rates, plans and bookings refer to it. skeleton: the name as it looks, so that none is taken for
-- another; in rows from before, the name in small letters. paid: their hours are wages; those of the others are own hours. 1 is
-- the owner, whose rates count for all own hours that have none. made_by: the name of whoever named them first.
CREATE TABLE people (
    id BIGINT PRIMARY KEY NOT NULL,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    skeleton TEXT NOT NULL UNIQUE CHECK (skeleton <> ''),
    paid BOOLEAN NOT NULL,
    made_at TIMESTAMP NOT NULL,
    made_by TEXT NOT NULL,
    CHECK (id > 1 OR (name = 'owner' AND NOT paid))
);

-- Who was known by name only. Paid is whoever had such a rate; own are the hours of others who had a rate, an owner's token or,
-- without a token, booked.
CREATE TEMPORARY TABLE named AS
    SELECT person AS name FROM pay_rates
    UNION SELECT person FROM pay_rates_by_kind
    UNION SELECT person FROM tokens
    UNION SELECT person FROM operations
    UNION SELECT person FROM work_entries
    UNION SELECT by_name FROM bookings;
INSERT INTO people (id, name, skeleton, paid, made_at, made_by)
    SELECT 1, 'owner', 'owner', FALSE, CURRENT_TIMESTAMP, 'owner' WHERE EXISTS (SELECT 1 FROM named);
INSERT INTO people (id, name, skeleton, paid, made_at, made_by)
    SELECT 1 + ROW_NUMBER() OVER (ORDER BY known.name), known.name, known.skeleton,
        EXISTS (SELECT 1 FROM pay_rates WHERE lower(person) = known.skeleton AND paid)
        OR NOT EXISTS (SELECT 1 FROM pay_rates WHERE lower(person) = known.skeleton)
        AND NOT EXISTS (SELECT 1 FROM tokens WHERE lower(person) = known.skeleton AND role = 'owner')
        AND (EXISTS (SELECT 1 FROM tokens WHERE lower(person) = known.skeleton)
            OR NOT EXISTS (SELECT 1 FROM bookings WHERE lower(by_name) = known.skeleton)),
        CURRENT_TIMESTAMP, 'owner'
    FROM (SELECT MIN(name) AS name, lower(name) AS skeleton FROM named WHERE lower(name) <> 'owner'
        GROUP BY lower(name)) AS known;
DROP TABLE named;
INSERT INTO counters (kind, next_number) SELECT 'person', MAX(id) + 1 FROM people HAVING MAX(id) IS NOT NULL;

CREATE TEMPORARY TABLE kept AS
    SELECT pay_rates.id, pay_rates.per_hour, pay_rates.from_date, people.id AS person_id
    FROM pay_rates JOIN people ON people.skeleton = lower(pay_rates.person);
DROP TABLE pay_rates;
CREATE TABLE pay_rates (
    id BIGINT PRIMARY KEY NOT NULL,
    person_id BIGINT NOT NULL REFERENCES people (id),
    per_hour BIGINT NOT NULL CHECK (per_hour BETWEEN 0 AND 10000000000000),
    from_date DATE NOT NULL,
    UNIQUE (person_id, from_date)
);
INSERT INTO pay_rates (id, per_hour, from_date, person_id) SELECT id, per_hour, from_date, person_id FROM kept;
DROP TABLE kept;

CREATE TEMPORARY TABLE kept AS
    SELECT pay_rates_by_kind.id, pay_rates_by_kind.kind, pay_rates_by_kind.per_hour, pay_rates_by_kind.from_date, people.id AS person_id
    FROM pay_rates_by_kind JOIN people ON people.skeleton = lower(pay_rates_by_kind.person);
DROP TABLE pay_rates_by_kind;
CREATE TABLE pay_rates_by_kind (
    id BIGINT PRIMARY KEY NOT NULL,
    person_id BIGINT NOT NULL REFERENCES people (id),
    kind TEXT NOT NULL CHECK (kind IN ('machine', 'hand', 'cutting', 'fitting', 'pressing', 'admin')),
    per_hour BIGINT NOT NULL CHECK (per_hour BETWEEN 0 AND 10000000000000),
    from_date DATE NOT NULL,
    UNIQUE (person_id, kind, from_date)
);
INSERT INTO pay_rates_by_kind (id, kind, per_hour, from_date, person_id) SELECT id, kind, per_hour, from_date, person_id FROM kept;
DROP TABLE kept;

CREATE TEMPORARY TABLE kept AS
    SELECT tokens.id, tokens.role, tokens.grants, tokens.hash, tokens.made_at, tokens.made_by, tokens.revoked_at, tokens.revoked_by, people.id AS person_id
    FROM tokens JOIN people ON people.skeleton = lower(tokens.person);
DROP TABLE tokens;
CREATE TABLE tokens (
    id BIGINT PRIMARY KEY NOT NULL,
    person_id BIGINT NOT NULL REFERENCES people (id),
    role TEXT NOT NULL CHECK (role IN ('owner', 'maker', 'viewer')),
    grants TEXT NOT NULL,
    hash TEXT NOT NULL UNIQUE CHECK (length(hash) = 64),
    made_at TIMESTAMP NOT NULL,
    made_by TEXT NOT NULL,
    revoked_at TIMESTAMP,
    revoked_by TEXT,
    CHECK ((revoked_at IS NULL) = (revoked_by IS NULL))
);
INSERT INTO tokens (id, role, grants, hash, made_at, made_by, revoked_at, revoked_by, person_id) SELECT id, role, grants, hash, made_at, made_by, revoked_at, revoked_by, person_id FROM kept;
DROP TABLE kept;

CREATE TEMPORARY TABLE kept AS
    SELECT operations.garment_id, operations.name, operations.position, operations.kind, operations.minutes, operations.billable, operations.detail, operations.detail_search, people.id AS person_id
    FROM operations JOIN people ON people.skeleton = lower(operations.person);
DROP TABLE operations;
CREATE TABLE operations (
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    name TEXT NOT NULL CHECK (name <> ''),
    position BIGINT NOT NULL,
    kind TEXT NOT NULL,
    minutes BIGINT NOT NULL CHECK (minutes BETWEEN 0 AND 10000000),
    person_id BIGINT NOT NULL REFERENCES people (id),
    billable BOOLEAN NOT NULL,
    detail TEXT CHECK (detail <> ''),
    detail_search TEXT CHECK (detail_search <> '' AND (detail IS NULL) = (detail_search IS NULL)),
    PRIMARY KEY (garment_id, name)
);
CREATE INDEX operations_by_detail ON operations (detail_search, garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX operations_with_detail ON operations (garment_id) WHERE detail_search IS NOT NULL;
INSERT INTO operations (garment_id, name, position, kind, minutes, billable, detail, detail_search, person_id) SELECT garment_id, name, position, kind, minutes, billable, detail, detail_search, person_id FROM kept;
DROP TABLE kept;

CREATE TEMPORARY TABLE kept AS
    SELECT work_entries.id, work_entries.booking_id, work_entries.garment_id, work_entries.operation, work_entries.operation_search, work_entries.kind, work_entries.minutes, work_entries.billable, work_entries.reason, work_entries.on_date, work_entries.undone, work_entries.detail, work_entries.detail_search, people.id AS person_id
    FROM work_entries JOIN people ON people.skeleton = lower(work_entries.person);
DROP TABLE work_entries;
CREATE TABLE work_entries (
    id BIGINT PRIMARY KEY NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    operation TEXT NOT NULL CHECK (operation <> ''),
    operation_search TEXT NOT NULL DEFAULT '',
    kind TEXT NOT NULL,
    minutes BIGINT NOT NULL CHECK (minutes > 0),
    person_id BIGINT NOT NULL REFERENCES people (id),
    billable BOOLEAN NOT NULL,
    reason TEXT NOT NULL,
    on_date DATE NOT NULL,
    undone BOOLEAN NOT NULL,
    detail TEXT CHECK (detail <> ''),
    detail_search TEXT CHECK (detail_search <> '' AND (detail IS NULL) = (detail_search IS NULL))
);
CREATE INDEX work_entries_by_garment ON work_entries (garment_id);
CREATE INDEX work_entries_by_booking ON work_entries (booking_id);
CREATE INDEX work_entries_by_operation ON work_entries (operation_search, garment_id);
CREATE INDEX work_entries_by_detail ON work_entries (detail_search, garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX work_entries_with_detail ON work_entries (garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX work_entries_by_day ON work_entries (on_date);
INSERT INTO work_entries (id, booking_id, garment_id, operation, operation_search, kind, minutes, billable, reason, on_date, undone, detail, detail_search, person_id) SELECT id, booking_id, garment_id, operation, operation_search, kind, minutes, billable, reason, on_date, undone, detail, detail_search, person_id FROM kept;
DROP TABLE kept;

-- Who booked. A booking has its person from the first moment, which a trigger sees to: the column came later than the rows.
ALTER TABLE bookings ADD COLUMN person_id BIGINT REFERENCES people (id);
CREATE INDEX bookings_by_person ON bookings (person_id, id);
DROP TRIGGER bookings_never_change_update ON bookings;
UPDATE bookings SET person_id = (SELECT id FROM people WHERE skeleton = lower(bookings.by_name));
ALTER TABLE bookings DROP COLUMN by_name;
CREATE TRIGGER bookings_never_change_update BEFORE UPDATE ON bookings FOR EACH ROW
EXECUTE FUNCTION bookings_never_change();
CREATE FUNCTION bookings_have_a_person() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION 'a booking has its person' USING ERRCODE = 'check_violation'; END $$;
CREATE TRIGGER bookings_have_a_person_insert BEFORE INSERT ON bookings FOR EACH ROW
WHEN (NEW.person_id IS NULL)
EXECUTE FUNCTION bookings_have_a_person();
CREATE FUNCTION people_stay() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION 'people are never deleted' USING ERRCODE = 'check_violation'; END $$;
CREATE TRIGGER people_stay_delete BEFORE DELETE ON people FOR EACH ROW
EXECUTE FUNCTION people_stay();
CREATE FUNCTION people_keep_their_name() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION 'a person keeps the name' USING ERRCODE = 'check_violation'; END $$;
CREATE TRIGGER people_keep_their_name_update BEFORE UPDATE ON people FOR EACH ROW
WHEN (NEW.id <> OLD.id OR NEW.name <> OLD.name)
EXECUTE FUNCTION people_keep_their_name();
