-- What was bought, and how it lies on the shelf. Columns named ..._search hold their text in lower case.
-- counted: mirrors the sheet, which says of trims whether they are kept by number. least: where less is on the shelf, it is time
-- to buy.
CREATE TABLE materials (
    id BIGINT PRIMARY KEY NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('cloth', 'lining', 'interlining', 'thread', 'trim')),
    name TEXT NOT NULL CHECK (name <> ''),
    name_search TEXT NOT NULL,
    sheet TEXT NOT NULL,
    counted BOOLEAN NOT NULL,
    least BIGINT CHECK (least BETWEEN 1 AND 10000000000000),
    UNIQUE (kind, name)
);

-- home_value: landed total in millionths of the workshop's currency, late charges included. opening: what was there when the book
-- began. file_sha256: of the file that it was read from.
CREATE TABLE purchases (
    id BIGINT PRIMARY KEY NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    supplier_id BIGINT REFERENCES suppliers (id),
    on_date DATE NOT NULL,
    invoice TEXT,
    currency TEXT NOT NULL,
    rate TEXT,
    invoice_minor BIGINT NOT NULL CHECK (invoice_minor >= 0),
    home_value BIGINT NOT NULL CHECK (home_value BETWEEN 0 AND 1000000000000000),
    remarks TEXT NOT NULL,
    note TEXT,
    opening BOOLEAN NOT NULL,
    file_sha256 TEXT CHECK (length(file_sha256) = 64),
    CHECK (NOT opening OR (supplier_id IS NULL AND invoice IS NULL))
);
CREATE INDEX purchases_by_file ON purchases (file_sha256) WHERE file_sha256 IS NOT NULL;
CREATE INDEX purchases_by_invoice ON purchases (supplier_id, invoice) WHERE invoice IS NOT NULL;
CREATE INDEX purchases_by_supplier ON purchases (supplier_id);
CREATE INDEX purchases_by_booking ON purchases (booking_id);
CREATE INDEX purchases_undone ON purchases (undone_by) WHERE undone_by IS NOT NULL;

-- Search columns (colour, mass) mirror the sheet. unpriced: until its price is logged the lot bears nothing but its charges, and
-- the price on its purchase line is 0. replacement_value: what replacement_per of it would cost to buy again, for quoting alone.
-- value_estimated: what it cost was estimated when the book began.
CREATE TABLE lots (
    id BIGINT PRIMARY KEY NOT NULL,
    material_id BIGINT NOT NULL REFERENCES materials (id),
    purchase_id BIGINT NOT NULL REFERENCES purchases (id),
    owner_id BIGINT REFERENCES customers (id),
    received DATE NOT NULL,
    dye_lot TEXT,
    paid TEXT,
    sheet TEXT NOT NULL,
    colour TEXT NOT NULL,
    colour_search TEXT NOT NULL,
    mass_mg_m2 BIGINT CHECK (mass_mg_m2 BETWEEN 0 AND 100000000),
    next_piece BIGINT NOT NULL CHECK (next_piece > 0),
    landed BIGINT NOT NULL CHECK (landed BETWEEN 0 AND 1000000000000000),
    unpriced BOOLEAN NOT NULL,
    replacement_value BIGINT CHECK (replacement_value BETWEEN 1 AND 1000000000000000),
    replacement_per BIGINT CHECK (replacement_per BETWEEN 1 AND 10000000000000),
    value_estimated BOOLEAN NOT NULL,
    CHECK (NOT unpriced OR owner_id IS NULL),
    CHECK (NOT (unpriced AND value_estimated)),
    CHECK ((replacement_value IS NULL) = (replacement_per IS NULL))
);
CREATE INDEX lots_by_material ON lots (material_id);
CREATE INDEX lots_in_doubt ON lots (material_id) WHERE unpriced OR value_estimated;
CREATE INDEX lots_by_purchase ON lots (purchase_id);
CREATE INDEX lots_by_owner ON lots (owner_id) WHERE owner_id IS NOT NULL;

-- The fibres of a lot's sheet by their generic names, in lower case.
CREATE TABLE lot_fibres (
    lot_id BIGINT NOT NULL REFERENCES lots (id),
    fibre TEXT NOT NULL CHECK (fibre <> ''),
    PRIMARY KEY (lot_id, fibre)
);

CREATE TABLE purchase_lines (
    purchase_id BIGINT NOT NULL REFERENCES purchases (id),
    position BIGINT NOT NULL,
    lot_id BIGINT NOT NULL UNIQUE REFERENCES lots (id),
    price_minor BIGINT NOT NULL CHECK (price_minor >= 0),
    amount_minor BIGINT NOT NULL CHECK (amount_minor >= 0),
    landed BIGINT NOT NULL CHECK (landed BETWEEN 0 AND 1000000000000000),
    quantity BIGINT NOT NULL CHECK (quantity BETWEEN 0 AND 10000000000000),
    length_um BIGINT,
    mass_mg BIGINT,
    PRIMARY KEY (purchase_id, position)
);

-- A tax that is reclaimed is no cost. reclaim_by: what said so, null for other charges; reclaim_from: since when the setting did.
CREATE TABLE purchase_charges (
    purchase_id BIGINT NOT NULL REFERENCES purchases (id),
    position BIGINT NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    kind TEXT NOT NULL CHECK (kind IN ('freight', 'duty', 'tax', 'discount', 'other', 'price')),
    amount_minor BIGINT NOT NULL,
    currency TEXT NOT NULL,
    share TEXT NOT NULL,
    late BOOLEAN NOT NULL,
    shares TEXT NOT NULL,
    reclaimed BOOLEAN NOT NULL CHECK (NOT reclaimed OR kind = 'tax'),
    reclaim_by TEXT CHECK (reclaim_by IN ('charge', 'setting', 'unset')),
    reclaim_from DATE CHECK ((reclaim_from IS NOT NULL) = COALESCE(reclaim_by = 'setting', FALSE)),
    CHECK (late OR kind <> 'price'),
    PRIMARY KEY (purchase_id, position, booking_id)
);
CREATE UNIQUE INDEX purchase_charges_standing ON purchase_charges (purchase_id, position) WHERE undone_by IS NULL;
CREATE INDEX purchase_charges_by_booking ON purchase_charges (booking_id);
CREATE INDEX purchase_charges_undone ON purchase_charges (undone_by) WHERE undone_by IS NOT NULL;

-- quantity: micrometres or counts. held and longest_free are kept from the stretches. mass_factor_ppm: how much heavier per area
-- the piece became than its lot is, in millionths, since washing that shrinks it makes it denser. tare_mg: mass of the empty
-- reel or core that it is wound on, once it was said for it. estimated: true while the length was worked out from a mass.
CREATE TABLE pieces (
    id BIGINT PRIMARY KEY NOT NULL,
    lot_id BIGINT NOT NULL REFERENCES lots (id),
    number BIGINT NOT NULL CHECK (number > 0),
    quantity BIGINT NOT NULL CHECK (quantity BETWEEN 0 AND 10000000000000),
    full_width_um BIGINT CHECK (full_width_um BETWEEN 0 AND 10000000000000),
    selvedges_um BIGINT CHECK (selvedges_um BETWEEN 0 AND 10000000000000),
    value BIGINT NOT NULL CHECK (value BETWEEN 0 AND 1000000000000000),
    held BIGINT NOT NULL,
    longest_free BIGINT NOT NULL,
    preparation TEXT,
    offcut BOOLEAN NOT NULL,
    place TEXT,
    received DATE NOT NULL,
    prepared DATE,
    last_on DATE NOT NULL,
    mass_factor_ppm BIGINT NOT NULL CHECK (mass_factor_ppm BETWEEN 1 AND 1000000000),
    tare_mg BIGINT CHECK (tare_mg BETWEEN 0 AND 100000000000),
    estimated BOOLEAN NOT NULL,
    UNIQUE (lot_id, number),
    CHECK (quantity > 0 OR value = 0),
    CHECK (held BETWEEN 0 AND quantity),
    CHECK (longest_free BETWEEN 0 AND quantity),
    CHECK ((full_width_um IS NULL) = (selvedges_um IS NULL)),
    CHECK (selvedges_um <= full_width_um)
);
CREATE INDEX pieces_on_shelf ON pieces (lot_id, number) WHERE quantity > 0;
-- On a large shelf the pieces nearest to a length are sought, not all of them.
CREATE INDEX pieces_by_free ON pieces (longest_free, id) WHERE quantity > 0;

-- Rule 3: in every stretch no more is promised than there is.
CREATE TABLE stretches (
    piece_id BIGINT NOT NULL REFERENCES pieces (id),
    position BIGINT NOT NULL CHECK (position >= 0),
    start_um BIGINT NOT NULL CHECK (start_um >= 0),
    length BIGINT NOT NULL CHECK (length >= 0),
    held BIGINT NOT NULL,
    PRIMARY KEY (piece_id, position),
    CHECK (held BETWEEN 0 AND length)
);

CREATE TABLE flaws (
    piece_id BIGINT NOT NULL REFERENCES pieces (id),
    position BIGINT NOT NULL CHECK (position >= 0),
    at_um BIGINT NOT NULL CHECK (at_um >= 0),
    length_um BIGINT NOT NULL CHECK (length_um >= 0),
    note TEXT NOT NULL,
    PRIMARY KEY (piece_id, position)
);

-- Cost layers of thread and trims: one per lot (first in, first out) or one per material (moving average).
CREATE TABLE layers (
    id BIGINT PRIMARY KEY NOT NULL,
    material_id BIGINT NOT NULL REFERENCES materials (id),
    lot_id BIGINT UNIQUE REFERENCES lots (id),
    quantity BIGINT NOT NULL CHECK (quantity BETWEEN 0 AND 10000000000000),
    value BIGINT NOT NULL CHECK (value BETWEEN 0 AND 1000000000000000),
    CHECK (quantity > 0 OR value = 0)
);
CREATE INDEX layers_by_material ON layers (material_id);

-- Moving average: what of each lot's receipt lies in the pool, and what takings carried off, in billionths of the receipt.
-- Together they are the whole of it, so that a late charge is shared as one larger invoice would have been.
CREATE TABLE pool_shares (
    lot_id BIGINT PRIMARY KEY NOT NULL REFERENCES lots (id),
    layer_id BIGINT NOT NULL REFERENCES layers (id),
    share BIGINT NOT NULL CHECK (share BETWEEN 0 AND 1000000000)
);
CREATE INDEX pool_shares_by_layer ON pool_shares (layer_id) WHERE share > 0;

-- One row for each lot of which a booking took a share; negative where it brought some back.
CREATE TABLE pool_takings (
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    lot_id BIGINT NOT NULL REFERENCES lots (id),
    to_kind TEXT NOT NULL CHECK (to_kind IN (
        'supplier', 'opening', 'piece', 'layer', 'garment', 'delivered', 'normal-loss', 'own-mistake', 'faulty-cloth', 'spoiled',
        'abandoned', 'discarded', 'given', 'sold', 'returned', 'own-use', 'write-down', 'adjustment'
    )),
    to_id BIGINT NOT NULL,
    share BIGINT NOT NULL CHECK (share BETWEEN -1000000000 AND 1000000000 AND share <> 0),
    PRIMARY KEY (booking_id, lot_id)
);
CREATE INDEX pool_takings_by_lot ON pool_takings (lot_id);
CREATE INDEX pool_takings_undone ON pool_takings (undone_by) WHERE undone_by IS NOT NULL;

CREATE TABLE wash_tests (
    id BIGINT PRIMARY KEY NOT NULL,
    lot_id BIGINT NOT NULL REFERENCES lots (id),
    number BIGINT NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    on_date DATE NOT NULL,
    test TEXT NOT NULL,
    note TEXT
);
CREATE UNIQUE INDEX wash_tests_standing ON wash_tests (lot_id, number) WHERE undone_by IS NULL;
CREATE INDEX wash_tests_by_booking ON wash_tests (booking_id);
CREATE INDEX wash_tests_undone ON wash_tests (undone_by) WHERE undone_by IS NOT NULL;

-- Goods of the shelf that were sold as they are, by the tax of that day; what they cost is what the ledger moved with the booking,
-- in minor units. No tax_name: untaxed.
CREATE TABLE sales (
    booking_id BIGINT PRIMARY KEY NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    customer_id BIGINT REFERENCES customers (id),
    tax_name TEXT CHECK (tax_name <> ''),
    tax_ppm BIGINT NOT NULL CHECK (tax_ppm >= 0),
    net_minor BIGINT NOT NULL CHECK (net_minor >= 0),
    tax_minor BIGINT NOT NULL CHECK (tax_minor >= 0),
    gross_minor BIGINT NOT NULL CHECK (gross_minor > 0),
    -- None: not known when they were sold.
    cost_minor BIGINT CHECK (cost_minor >= 0),
    CHECK (gross_minor = net_minor + tax_minor),
    CHECK (tax_name IS NOT NULL OR (tax_ppm = 0 AND tax_minor = 0))
);
CREATE INDEX sales_by_customer ON sales (customer_id) WHERE customer_id IS NOT NULL;
CREATE INDEX sales_undone ON sales (undone_by) WHERE undone_by IS NOT NULL;

CREATE TRIGGER sales_never_change_update BEFORE UPDATE OF
    booking_id, customer_id, tax_name, tax_ppm, net_minor, tax_minor, gross_minor, cost_minor ON sales FOR EACH ROW
EXECUTE FUNCTION refuse('sales are never changed');
CREATE TRIGGER sales_never_change_delete BEFORE DELETE ON sales FOR EACH ROW
EXECUTE FUNCTION refuse('sales are never changed');

-- Totals of the ledger by month and by year, written with each booking: all before a month is a row of each year and at most
-- eleven months, so that every month is read from as few rows. month: first day of the month, or of the year where whole_year is
-- true, by the day of the booking. Cloth that customers own is in none of them.

-- What moved from one kind of place to another. kind: of the material, none for what is no material any more; unit: whether its
-- quantities are micrometres or numbers.
CREATE TABLE month_totals (
    whole_year BOOLEAN NOT NULL,
    month DATE NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('cloth', 'lining', 'interlining', 'thread', 'trim', 'none')),
    unit TEXT NOT NULL CHECK (unit IN ('count', 'length')),
    from_kind TEXT NOT NULL CHECK (from_kind IN (
        'supplier', 'opening', 'piece', 'layer', 'garment', 'delivered', 'normal-loss', 'own-mistake', 'faulty-cloth', 'spoiled',
        'abandoned', 'discarded', 'given', 'sold', 'returned', 'own-use', 'write-down', 'adjustment'
    )),
    to_kind TEXT NOT NULL CHECK (to_kind IN (
        'supplier', 'opening', 'piece', 'layer', 'garment', 'delivered', 'normal-loss', 'own-mistake', 'faulty-cloth', 'spoiled',
        'abandoned', 'discarded', 'given', 'sold', 'returned', 'own-use', 'write-down', 'adjustment'
    )),
    quantity_out BIGINT NOT NULL CHECK (quantity_out >= 0),
    quantity_in BIGINT NOT NULL CHECK (quantity_in >= 0),
    value BIGINT NOT NULL CHECK (value >= 0),
    CHECK (NOT whole_year OR EXTRACT(DOY FROM month) = 1),
    PRIMARY KEY (whole_year, month, kind, unit, from_kind, to_kind)
);

-- By how much the pieces of a material grew in a month, below zero where they shrank: micrometres or a number.
CREATE TABLE month_stock (
    material_id BIGINT NOT NULL REFERENCES materials (id),
    whole_year BOOLEAN NOT NULL,
    month DATE NOT NULL,
    quantity BIGINT NOT NULL,
    CHECK (NOT whole_year OR EXTRACT(DOY FROM month) = 1),
    PRIMARY KEY (material_id, whole_year, month)
);
