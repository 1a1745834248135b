-- What was bought, and how it lies on the shelf. Columns named ..._search hold their text in lower case.
CREATE TABLE materials (
    id BIGINT PRIMARY KEY NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('cloth', 'interlining', 'thread', 'trim')),
    name TEXT NOT NULL CHECK (name <> ''),
    name_search TEXT NOT NULL,
    sheet TEXT NOT NULL,
    UNIQUE (kind, name)
);

-- home_value: landed total in millionths of the workshop's currency, late charges included.
CREATE TABLE purchases (
    id BIGINT PRIMARY KEY NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    supplier_id BIGINT REFERENCES suppliers (id),
    on_date DATE NOT NULL,
    invoice TEXT,
    currency TEXT NOT NULL,
    rate TEXT,
    invoice_minor BIGINT NOT NULL CHECK (invoice_minor >= 0),
    home_value BIGINT NOT NULL CHECK (home_value BETWEEN 0 AND 1000000000000000),
    remarks TEXT NOT NULL,
    note TEXT
);
CREATE INDEX purchases_by_supplier ON purchases (supplier_id);

-- Search columns (colour, mass, fibres) mirror the sheet.
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
    fibres TEXT NOT NULL,
    mass_mg_m2 BIGINT CHECK (mass_mg_m2 BETWEEN 0 AND 100000000),
    next_piece BIGINT NOT NULL CHECK (next_piece > 0),
    landed BIGINT NOT NULL CHECK (landed BETWEEN 0 AND 1000000000000000)
);
CREATE INDEX lots_by_material ON lots (material_id);
CREATE INDEX lots_by_purchase ON lots (purchase_id);

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

CREATE TABLE purchase_charges (
    purchase_id BIGINT NOT NULL REFERENCES purchases (id),
    position BIGINT NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    kind TEXT NOT NULL,
    amount_minor BIGINT NOT NULL,
    currency TEXT NOT NULL,
    share TEXT NOT NULL,
    late BOOLEAN NOT NULL,
    shares TEXT NOT NULL,
    PRIMARY KEY (purchase_id, position)
);

-- quantity: micrometres or counts. held and longest_free are kept from the stretches.
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
    UNIQUE (lot_id, number),
    CHECK (quantity > 0 OR value = 0),
    CHECK (held BETWEEN 0 AND quantity),
    CHECK (longest_free BETWEEN 0 AND quantity),
    CHECK (full_width_um IS NULL OR selvedges_um <= full_width_um)
);
CREATE INDEX pieces_on_shelf ON pieces (lot_id, number) WHERE quantity > 0;

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

CREATE TABLE wash_tests (
    id BIGINT PRIMARY KEY NOT NULL,
    lot_id BIGINT NOT NULL REFERENCES lots (id),
    number BIGINT NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    on_date DATE NOT NULL,
    test TEXT NOT NULL,
    note TEXT,
    UNIQUE (lot_id, number)
);
