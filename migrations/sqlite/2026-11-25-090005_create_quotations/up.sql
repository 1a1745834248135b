-- What became of a quotation. version: the newest; accepted_in: the booking of the acceptance; keep: what is kept of payments
-- after a cancellation, as it was typed; accepted_option: which of its options was accepted, null: it had none;
-- supplement_to: the accepted quotation whose later change this one prices; one of them is open at a time; agreed_minor: what was
-- agreed to, tax included, in minor units of the currency.
CREATE TABLE quotations (
    id INTEGER PRIMARY KEY NOT NULL,
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    customer_id BIGINT REFERENCES customers (id),
    state TEXT NOT NULL CHECK (state IN ('open', 'accepted', 'closed', 'cancelled')),
    version BIGINT NOT NULL CHECK (version >= 1),
    accepted BIGINT CHECK (accepted BETWEEN 1 AND version),
    accepted_in BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    keep TEXT,
    accepted_option TEXT CHECK (accepted_option <> '' AND (accepted_option IS NULL OR accepted IS NOT NULL)),
    supplement_to BIGINT REFERENCES quotations (id) CHECK (supplement_to < id),
    agreed_minor BIGINT,
    CHECK ((accepted IS NULL) = (agreed_minor IS NULL)),
    CHECK ((state IN ('accepted', 'cancelled')) = (accepted IS NOT NULL)),
    CHECK ((accepted IS NULL) = (accepted_in IS NULL)),
    CHECK (keep IS NULL OR state = 'cancelled')
);
CREATE INDEX quotations_by_garment ON quotations (garment_id, id);
CREATE INDEX quotations_by_state ON quotations (state, id);
CREATE INDEX quotations_by_customer ON quotations (customer_id);
CREATE INDEX quotations_by_acceptance ON quotations (accepted_in);
CREATE UNIQUE INDEX quotations_one_open_supplement ON quotations (supplement_to) WHERE state = 'open';
CREATE INDEX quotations_by_supplement ON quotations (supplement_to, id);
-- A garment is sold once: what is agreed later is a supplement of what was accepted.
CREATE UNIQUE INDEX quotations_one_accepted ON quotations (garment_id) WHERE state = 'accepted' AND supplement_to IS NULL;

-- A version is never changed, only taken back. asked, frozen: JSON of what was asked for and of what came out of it, without the
-- customer's name. gross_minor: minor units of the currency.
CREATE TABLE quotation_versions (
    quotation_id BIGINT NOT NULL REFERENCES quotations (id),
    version BIGINT NOT NULL CHECK (version >= 1),
    on_date DATE NOT NULL,
    valid_until DATE NOT NULL,
    currency TEXT NOT NULL CHECK (length(currency) = 3),
    gross_minor BIGINT NOT NULL CHECK (gross_minor >= 0),
    -- False while something of it has no price.
    is_offer BOOLEAN NOT NULL,
    asked TEXT NOT NULL,
    frozen TEXT NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    made_by TEXT NOT NULL,
    made_at TIMESTAMP NOT NULL,
    PRIMARY KEY (quotation_id, version),
    CHECK (valid_until >= on_date)
);
CREATE INDEX quotation_versions_by_booking ON quotation_versions (booking_id);
CREATE INDEX quotation_versions_undone ON quotation_versions (undone_by) WHERE undone_by IS NOT NULL;

-- Payments as they came; below zero: back to the customer. rounding_minor: what a payment in cash settles beyond its amount,
-- since cash comes in steps.
CREATE TABLE payments (
    booking_id BIGINT PRIMARY KEY NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    quotation_id BIGINT NOT NULL REFERENCES quotations (id),
    minor BIGINT NOT NULL CHECK (minor <> 0),
    on_date DATE NOT NULL,
    note TEXT,
    cash BOOLEAN NOT NULL,
    rounding_minor BIGINT NOT NULL CHECK (cash OR rounding_minor = 0)
);
CREATE INDEX payments_by_quotation ON payments (quotation_id, booking_id);
CREATE INDEX payments_undone ON payments (undone_by) WHERE undone_by IS NOT NULL;

CREATE TRIGGER quotation_versions_never_change_update BEFORE UPDATE OF
    quotation_id, version, on_date, valid_until, currency, gross_minor, is_offer, asked, frozen, booking_id, made_by, made_at ON quotation_versions
BEGIN SELECT RAISE(ABORT, 'versions of quotations are never changed'); END;
CREATE TRIGGER quotation_versions_never_change_delete BEFORE DELETE ON quotation_versions
BEGIN SELECT RAISE(ABORT, 'versions of quotations are never changed'); END;
