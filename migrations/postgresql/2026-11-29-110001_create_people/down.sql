-- The names come back.
DROP TRIGGER people_stay_delete ON people;
DROP TRIGGER people_keep_their_name_update ON people;
DROP FUNCTION people_stay();
DROP FUNCTION people_keep_their_name();
CREATE TEMPORARY TABLE kept AS
    SELECT pay_rates.id, pay_rates.per_hour, pay_rates.from_date, people.name AS person, people.paid
    FROM pay_rates JOIN people ON people.id = pay_rates.person_id;
DROP TABLE pay_rates;
CREATE TABLE pay_rates (
    id BIGINT PRIMARY KEY NOT NULL,
    person TEXT NOT NULL CHECK (person <> ''),
    paid BOOLEAN NOT NULL,
    per_hour BIGINT NOT NULL CHECK (per_hour BETWEEN 0 AND 10000000000000),
    from_date DATE NOT NULL,
    UNIQUE (person, from_date)
);
INSERT INTO pay_rates (id, per_hour, from_date, person, paid) SELECT id, per_hour, from_date, person, paid FROM kept;
DROP TABLE kept;

CREATE TEMPORARY TABLE kept AS
    SELECT pay_rates_by_kind.id, pay_rates_by_kind.kind, pay_rates_by_kind.per_hour, pay_rates_by_kind.from_date, people.name AS person, people.paid
    FROM pay_rates_by_kind JOIN people ON people.id = pay_rates_by_kind.person_id;
DROP TABLE pay_rates_by_kind;
CREATE TABLE pay_rates_by_kind (
    id BIGINT PRIMARY KEY NOT NULL,
    person TEXT NOT NULL CHECK (person <> ''),
    kind TEXT NOT NULL CHECK (kind IN ('machine', 'hand', 'cutting', 'fitting', 'pressing', 'admin')),
    paid BOOLEAN NOT NULL,
    per_hour BIGINT NOT NULL CHECK (per_hour BETWEEN 0 AND 10000000000000),
    from_date DATE NOT NULL,
    UNIQUE (person, kind, from_date)
);
INSERT INTO pay_rates_by_kind (id, kind, per_hour, from_date, person, paid) SELECT id, kind, per_hour, from_date, person, paid FROM kept;
DROP TABLE kept;

CREATE TEMPORARY TABLE kept AS
    SELECT tokens.id, tokens.role, tokens.grants, tokens.hash, tokens.made_at, tokens.made_by, tokens.revoked_at, tokens.revoked_by, people.name AS person
    FROM tokens JOIN people ON people.id = tokens.person_id;
DROP TABLE tokens;
CREATE TABLE tokens (
    id BIGINT PRIMARY KEY NOT NULL,
    person TEXT NOT NULL CHECK (person <> ''),
    role TEXT NOT NULL CHECK (role IN ('owner', 'maker', 'viewer')),
    grants TEXT NOT NULL,
    hash TEXT NOT NULL UNIQUE CHECK (length(hash) = 64),
    made_at TIMESTAMP NOT NULL,
    made_by TEXT NOT NULL,
    revoked_at TIMESTAMP,
    revoked_by TEXT,
    CHECK ((revoked_at IS NULL) = (revoked_by IS NULL))
);
INSERT INTO tokens (id, role, grants, hash, made_at, made_by, revoked_at, revoked_by, person) SELECT id, role, grants, hash, made_at, made_by, revoked_at, revoked_by, person FROM kept;
DROP TABLE kept;

CREATE TEMPORARY TABLE kept AS
    SELECT operations.garment_id, operations.name, operations.position, operations.kind, operations.minutes, operations.billable, operations.detail, operations.detail_search, people.name AS person
    FROM operations JOIN people ON people.id = operations.person_id;
DROP TABLE operations;
CREATE TABLE operations (
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    name TEXT NOT NULL CHECK (name <> ''),
    position BIGINT NOT NULL,
    kind TEXT NOT NULL,
    minutes BIGINT NOT NULL CHECK (minutes BETWEEN 0 AND 10000000),
    person TEXT NOT NULL,
    billable BOOLEAN NOT NULL, detail TEXT CHECK (detail <> ''), detail_search TEXT
    CHECK (detail_search <> '' AND (detail IS NULL) = (detail_search IS NULL)),
    PRIMARY KEY (garment_id, name)
);
CREATE INDEX operations_by_detail ON operations (detail_search, garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX operations_with_detail ON operations (garment_id) WHERE detail_search IS NOT NULL;
INSERT INTO operations (garment_id, name, position, kind, minutes, billable, detail, detail_search, person) SELECT garment_id, name, position, kind, minutes, billable, detail, detail_search, person FROM kept;
DROP TABLE kept;

CREATE TEMPORARY TABLE kept AS
    SELECT work_entries.id, work_entries.booking_id, work_entries.garment_id, work_entries.operation, work_entries.operation_search, work_entries.kind, work_entries.minutes, work_entries.billable, work_entries.reason, work_entries.on_date, work_entries.undone, work_entries.detail, work_entries.detail_search, people.name AS person
    FROM work_entries JOIN people ON people.id = work_entries.person_id;
DROP TABLE work_entries;
CREATE TABLE work_entries (
    id BIGINT PRIMARY KEY NOT NULL,
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
, operation_search TEXT NOT NULL DEFAULT '', detail TEXT CHECK (detail <> ''), detail_search TEXT
    CHECK (detail_search <> '' AND (detail IS NULL) = (detail_search IS NULL)));
CREATE INDEX work_entries_by_garment ON work_entries (garment_id);
CREATE INDEX work_entries_by_booking ON work_entries (booking_id);
CREATE INDEX work_entries_by_operation ON work_entries (operation_search, garment_id);
CREATE INDEX work_entries_by_detail ON work_entries (detail_search, garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX work_entries_with_detail ON work_entries (garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX work_entries_by_day ON work_entries (on_date);
INSERT INTO work_entries (id, booking_id, garment_id, operation, operation_search, kind, minutes, billable, reason, on_date, undone, detail, detail_search, person) SELECT id, booking_id, garment_id, operation, operation_search, kind, minutes, billable, reason, on_date, undone, detail, detail_search, person FROM kept;
DROP TABLE kept;

DROP TRIGGER bookings_have_a_person_insert ON bookings;
DROP FUNCTION bookings_have_a_person();
DROP TRIGGER bookings_never_change_update ON bookings;
ALTER TABLE bookings ADD COLUMN by_name TEXT;
UPDATE bookings SET by_name = (SELECT name FROM people WHERE people.id = bookings.person_id);
ALTER TABLE bookings ALTER COLUMN by_name SET NOT NULL;
DROP INDEX bookings_by_person;
ALTER TABLE bookings DROP COLUMN person_id;
CREATE TRIGGER bookings_never_change_update BEFORE UPDATE ON bookings FOR EACH ROW
EXECUTE FUNCTION bookings_never_change();
DROP TABLE people;
DELETE FROM counters WHERE kind = 'person';
