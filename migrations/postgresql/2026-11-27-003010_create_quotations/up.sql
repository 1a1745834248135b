-- How prices are told and taxed; see TaxRules of the domain.
ALTER TABLE workshops ADD COLUMN prices_shown TEXT NOT NULL DEFAULT 'without-tax'
    CHECK (prices_shown IN ('without-tax', 'with-tax'));
ALTER TABLE workshops ADD COLUMN tax_rounding TEXT NOT NULL DEFAULT 'half-up'
    CHECK (tax_rounding IN ('half-up', 'half-down', 'half-even', 'down'));
ALTER TABLE workshops ADD COLUMN tax_place TEXT NOT NULL DEFAULT 'rate'
    CHECK (tax_place IN ('line', 'rate', 'invoice'));

-- Tax rates by name; the first is taken where none is named. ppm: share of the net amount in millionths.
CREATE TABLE tax_rates (
    id BIGINT PRIMARY KEY NOT NULL,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    ppm BIGINT NOT NULL CHECK (ppm BETWEEN 0 AND 1000000000)
);

-- What became of a quotation. version: the newest; accepted_in: the booking of the acceptance; keep: what is kept of
-- payments after a cancellation, as it was typed.
CREATE TABLE quotations (
    id BIGINT PRIMARY KEY NOT NULL,
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    customer_id BIGINT REFERENCES customers (id),
    state TEXT NOT NULL CHECK (state IN ('open', 'accepted', 'closed', 'cancelled')),
    version BIGINT NOT NULL CHECK (version >= 1),
    accepted BIGINT CHECK (accepted BETWEEN 1 AND version),
    accepted_in BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    keep TEXT,
    CHECK ((state IN ('accepted', 'cancelled')) = (accepted IS NOT NULL)),
    CHECK ((accepted IS NULL) = (accepted_in IS NULL)),
    CHECK (keep IS NULL OR state = 'cancelled')
);
CREATE INDEX quotations_by_garment ON quotations (garment_id, id);
CREATE INDEX quotations_by_state ON quotations (state, id);
CREATE INDEX quotations_by_customer ON quotations (customer_id);
CREATE INDEX quotations_by_acceptance ON quotations (accepted_in);

-- A version is never changed. asked, frozen: JSON of what was asked for and of what came out of it, without the customer's
-- name. gross_minor: minor units of the currency.
CREATE TABLE quotation_versions (
    quotation_id BIGINT NOT NULL REFERENCES quotations (id),
    version BIGINT NOT NULL CHECK (version >= 1),
    on_date DATE NOT NULL,
    valid_until DATE NOT NULL,
    currency TEXT NOT NULL CHECK (length(currency) = 3),
    gross_minor BIGINT NOT NULL CHECK (gross_minor >= 0),
    asked TEXT NOT NULL,
    frozen TEXT NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    made_by TEXT NOT NULL,
    made_at TIMESTAMP NOT NULL,
    PRIMARY KEY (quotation_id, version),
    CHECK (valid_until >= on_date)
);
CREATE INDEX quotation_versions_by_booking ON quotation_versions (booking_id);
CREATE FUNCTION quotation_versions_never_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION 'versions of quotations are never changed' USING ERRCODE = 'check_violation'; END $$;
CREATE TRIGGER quotation_versions_never_change_update BEFORE UPDATE ON quotation_versions FOR EACH ROW
EXECUTE FUNCTION quotation_versions_never_change();
CREATE TRIGGER quotation_versions_never_change_delete BEFORE DELETE ON quotation_versions FOR EACH ROW
EXECUTE FUNCTION quotation_versions_never_change();

-- Payments as they came; below zero: back to the customer. undone: its booking was taken back.
CREATE TABLE payments (
    booking_id BIGINT PRIMARY KEY NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    quotation_id BIGINT NOT NULL REFERENCES quotations (id),
    minor BIGINT NOT NULL CHECK (minor <> 0),
    on_date DATE NOT NULL,
    note TEXT,
    undone BOOLEAN NOT NULL
);
CREATE INDEX payments_by_quotation ON payments (quotation_id, booking_id);
