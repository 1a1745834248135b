-- The workshop's settings, its people and rates, and whom it deals with.

-- Nothing is booked on closed_to or before it. date_order: of dates with slashes, null where none is chosen. version counts the changes of settings and rates; the last one is described.
-- prices_shown, tax_rounding, tax_place: how prices are told and taxed. cash_step_minor: smallest step of cash in minor units,
-- null where cash is paid to the minor unit. head: what stands at the head of a sheet; words:
-- the workshop's own words on it, by label. Both are JSON.
CREATE TABLE workshops (
    id BIGINT PRIMARY KEY NOT NULL CHECK (id = 1),
    currency TEXT NOT NULL CHECK (length(currency) = 3),
    currency_fixed BOOLEAN NOT NULL,
    zone TEXT NOT NULL,
    units TEXT NOT NULL CHECK (units IN ('metric', 'imperial')),
    date_order TEXT CHECK (date_order IN ('day-first', 'month-first')),
    cutting_step_um BIGINT NOT NULL CHECK (cutting_step_um BETWEEN 0 AND 10000000000000),
    end_allowance_um BIGINT NOT NULL CHECK (end_allowance_um BETWEEN 0 AND 10000000000000),
    offcut_length_um BIGINT NOT NULL CHECK (offcut_length_um BETWEEN 0 AND 10000000000000),
    offcut_width_um BIGINT NOT NULL CHECK (offcut_width_um BETWEEN 0 AND 10000000000000),
    strip_value TEXT NOT NULL CHECK (strip_value IN ('area', 'zero')),
    pooled_method TEXT NOT NULL CHECK (pooled_method IN ('fifo', 'average')),
    pooled_method_fixed BOOLEAN NOT NULL,
    closed_to DATE,
    version BIGINT NOT NULL CHECK (version >= 0),
    changed_by TEXT,
    changed_at TIMESTAMP,
    changed_what TEXT,
    prices_shown TEXT NOT NULL CHECK (prices_shown IN ('without-tax', 'with-tax')),
    tax_rounding TEXT NOT NULL CHECK (tax_rounding IN ('half-up', 'half-down', 'half-even', 'down')),
    tax_place TEXT NOT NULL CHECK (tax_place IN ('line', 'rate', 'invoice')),
    cash_step_minor BIGINT CHECK (cash_step_minor BETWEEN 2 AND 1000000000000000),
    head TEXT NOT NULL CHECK (head LIKE '{%}'),
    price_rule TEXT CHECK (price_rule LIKE '{%}'),
    words TEXT NOT NULL CHECK (words LIKE '{%}')
);

-- Pictures that stand at the head of sheets, in base64. None changes: another picture is another logo.
CREATE TABLE logos (
    id BIGINT PRIMARY KEY NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('png', 'svg')),
    picture TEXT NOT NULL CHECK (length(picture) BETWEEN 1 AND 200000)
);

-- The numbers that codes are made of.
CREATE TABLE counters (
    kind TEXT PRIMARY KEY NOT NULL,
    next_number BIGINT NOT NULL CHECK (next_number > 0)
);

-- A person is a row: tokens, hours, rates, plans and bookings refer to it. skeleton: the name as it looks, so that none is
-- taken for another. paid: their hours are wages; those of the others are own hours. 1 is the owner, whose rates count for
-- all own hours that have none. made_by: the name of whoever named them first.
CREATE TABLE people (
    id BIGINT PRIMARY KEY NOT NULL,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    skeleton TEXT NOT NULL UNIQUE CHECK (skeleton <> ''),
    paid BOOLEAN NOT NULL,
    made_at TIMESTAMP NOT NULL,
    made_by TEXT NOT NULL,
    CHECK (id > 1 OR (name = 'owner' AND NOT paid))
);

-- Who may use the book. The secret itself is never here: hash is its SHA-256 in hexadecimal digits. Days of the workshop:
-- made_on, of made_at; valid_until, the last one on which it opens the book; used_on, the last one on which it did.
CREATE TABLE tokens (
    id BIGINT PRIMARY KEY NOT NULL,
    person_id BIGINT NOT NULL REFERENCES people (id),
    role TEXT NOT NULL CHECK (role IN ('owner', 'maker', 'apprentice', 'viewer')),
    hash TEXT NOT NULL UNIQUE CHECK (length(hash) = 64),
    made_at TIMESTAMP NOT NULL,
    made_by TEXT NOT NULL,
    revoked_at TIMESTAMP,
    revoked_by TEXT,
    label TEXT CHECK (label <> ''),
    made_on DATE NOT NULL,
    valid_until DATE,
    used_on DATE,
    CHECK ((revoked_at IS NULL) = (revoked_by IS NULL)),
    CHECK (valid_until >= made_on),
    CHECK (used_on <= valid_until)
);
CREATE INDEX tokens_of_person ON tokens (person_id);

-- What a token allows beyond its role.
CREATE TABLE token_grants (
    token_id BIGINT NOT NULL REFERENCES tokens (id),
    word TEXT NOT NULL CHECK (word IN ('prices', 'pay-rates', 'write-offs', 'settings', 'books', 'people')),
    PRIMARY KEY (token_id, word)
);

-- What an hour of a person costs. per_hour: ten-thousandths of the currency an hour.
CREATE TABLE pay_rates (
    id BIGINT PRIMARY KEY NOT NULL,
    person_id BIGINT NOT NULL REFERENCES people (id),
    per_hour BIGINT NOT NULL CHECK (per_hour BETWEEN 0 AND 10000000000000),
    from_date DATE NOT NULL,
    UNIQUE (person_id, from_date)
);

-- The same at one kind of work; it goes before the rate for all their work.
CREATE TABLE pay_rates_by_kind (
    id BIGINT PRIMARY KEY NOT NULL,
    person_id BIGINT NOT NULL REFERENCES people (id),
    kind TEXT NOT NULL CHECK (kind IN ('machine', 'hand', 'cutting', 'fitting', 'pressing', 'admin')),
    per_hour BIGINT NOT NULL CHECK (per_hour BETWEEN 0 AND 10000000000000),
    from_date DATE NOT NULL,
    UNIQUE (person_id, kind, from_date)
);

-- A ratio: millionths of the currency over minutes.
CREATE TABLE overhead_rates (
    id BIGINT PRIMARY KEY NOT NULL,
    amount BIGINT NOT NULL CHECK (amount BETWEEN 0 AND 1000000000000000),
    minutes BIGINT NOT NULL CHECK (minutes > 0),
    from_date DATE NOT NULL UNIQUE
);

-- What an hour must bring, as it is typed once a year. pay, overhead: millionths of the currency; billable: share in
-- millionths of the minutes worked.
CREATE TABLE yearly_figures (
    id BIGINT PRIMARY KEY NOT NULL,
    pay BIGINT NOT NULL CHECK (pay BETWEEN 0 AND 1000000000000000),
    overhead BIGINT NOT NULL CHECK (overhead BETWEEN 0 AND 1000000000000000),
    weeks BIGINT NOT NULL CHECK (weeks BETWEEN 1 AND 53),
    week_minutes BIGINT NOT NULL CHECK (week_minutes BETWEEN 1 AND 10080),
    billable_ppm BIGINT NOT NULL CHECK (billable_ppm BETWEEN 1 AND 1000000),
    from_date DATE NOT NULL UNIQUE
);

-- Overhead that was spent in a period, in millionths of the currency, both days included; one amount a period.
CREATE TABLE overhead_spent (
    id BIGINT PRIMARY KEY NOT NULL,
    from_date DATE NOT NULL,
    to_date DATE NOT NULL,
    amount BIGINT NOT NULL CHECK (amount BETWEEN 0 AND 1000000000000000),
    UNIQUE (from_date, to_date),
    CHECK (to_date >= from_date)
);

-- Tax rates by name; the first is taken where none is named. ppm: share of the net amount in millionths.
CREATE TABLE tax_rates (
    id BIGINT PRIMARY KEY NOT NULL,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    ppm BIGINT NOT NULL CHECK (ppm BETWEEN 0 AND 1000000000)
);

-- Whether the workshop gets back the tax on its purchases, from a date on.
CREATE TABLE tax_reclaims (
    id BIGINT PRIMARY KEY NOT NULL,
    reclaimed BOOLEAN NOT NULL,
    from_date DATE NOT NULL UNIQUE
);

-- Operations that the workshop does often. minutes: typical ones, for one garment.
CREATE TABLE usual_operations (
    name_search TEXT PRIMARY KEY NOT NULL CHECK (name_search <> ''),
    name TEXT NOT NULL CHECK (name <> ''),
    kind TEXT NOT NULL CHECK (kind IN ('machine', 'hand', 'cutting', 'fitting', 'pressing', 'admin')),
    minutes BIGINT NOT NULL CHECK (minutes BETWEEN 1 AND 10000000),
    billable BOOLEAN NOT NULL
);

CREATE TABLE suppliers (
    id BIGINT PRIMARY KEY NOT NULL,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    note TEXT NOT NULL
);

CREATE TABLE customers (
    id BIGINT PRIMARY KEY NOT NULL,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    note TEXT NOT NULL
);

-- Names that a supplier had before: they still find it.
CREATE TABLE former_supplier_names (
    supplier_id BIGINT NOT NULL REFERENCES suppliers (id),
    name TEXT NOT NULL CHECK (name <> ''),
    PRIMARY KEY (supplier_id, name)
);
CREATE INDEX former_supplier_names_by_name ON former_supplier_names (name);

-- Names that a customer had before: they still find them, and all of them go when the customer is erased.
CREATE TABLE former_names (
    customer_id BIGINT NOT NULL REFERENCES customers (id),
    name TEXT NOT NULL CHECK (name <> ''),
    PRIMARY KEY (customer_id, name)
);
CREATE INDEX former_names_by_name ON former_names (name);

CREATE FUNCTION refuse() RETURNS trigger LANGUAGE plpgsql AS $$
-- Refuses, saying its argument.
BEGIN RAISE EXCEPTION '%', TG_ARGV[0] USING ERRCODE = 'check_violation'; END $$;
CREATE TRIGGER people_stay_delete BEFORE DELETE ON people FOR EACH ROW
EXECUTE FUNCTION refuse('people are never deleted');
CREATE TRIGGER people_keep_their_name_update BEFORE UPDATE ON people FOR EACH ROW
WHEN (NEW.id <> OLD.id OR NEW.name <> OLD.name)
EXECUTE FUNCTION refuse('a person keeps the name');
