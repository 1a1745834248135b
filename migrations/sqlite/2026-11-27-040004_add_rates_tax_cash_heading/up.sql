-- What an hour of a person costs at one kind of work; it goes before the rate for all their work. per_hour:
-- ten-thousandths of the currency an hour.
CREATE TABLE pay_rates_by_kind (
    id INTEGER PRIMARY KEY NOT NULL,
    person TEXT NOT NULL CHECK (person <> ''),
    kind TEXT NOT NULL CHECK (kind IN ('machine', 'hand', 'cutting', 'fitting', 'pressing', 'admin')),
    paid BOOLEAN NOT NULL,
    per_hour BIGINT NOT NULL CHECK (per_hour BETWEEN 0 AND 10000000000000),
    from_date DATE NOT NULL,
    UNIQUE (person, kind, from_date)
);

-- Whether the workshop gets back the tax on its purchases, from a date on.
CREATE TABLE tax_reclaims (
    id INTEGER PRIMARY KEY NOT NULL,
    reclaimed BOOLEAN NOT NULL,
    from_date DATE NOT NULL UNIQUE
);

-- A tax that is reclaimed is no cost. reclaim_by: what said so, null for other charges and in rows from before;
-- reclaim_from: since when the setting did.
ALTER TABLE purchase_charges ADD COLUMN reclaimed BOOLEAN NOT NULL DEFAULT FALSE
    CHECK (NOT reclaimed OR kind = 'tax');
ALTER TABLE purchase_charges ADD COLUMN reclaim_by TEXT
    CHECK (reclaim_by IN ('charge', 'setting', 'unset'));
ALTER TABLE purchase_charges ADD COLUMN reclaim_from DATE
    CHECK ((reclaim_from IS NOT NULL) = COALESCE(reclaim_by = 'setting', FALSE));

-- Smallest step of cash in minor units, null where cash is paid to the minor unit; what stands at the head of a sheet,
-- the address with its lines.
ALTER TABLE workshops ADD COLUMN cash_step_minor BIGINT
    CHECK (cash_step_minor BETWEEN 2 AND 1000000000000000);
ALTER TABLE workshops ADD COLUMN name TEXT NOT NULL DEFAULT '';
ALTER TABLE workshops ADD COLUMN address TEXT NOT NULL DEFAULT '';

-- rounding_minor: what a payment in cash settles beyond its amount, since cash comes in steps.
ALTER TABLE payments ADD COLUMN cash BOOLEAN NOT NULL DEFAULT FALSE;
ALTER TABLE payments ADD COLUMN rounding_minor BIGINT NOT NULL DEFAULT 0
    CHECK (cash OR rounding_minor = 0);
