-- Totals of the ledger by month, written with each booking: an old month is read from as few rows as a new one. month: its
-- first day, by the day of the booking. Cloth that customers own is in none of them.

-- What moved from one kind of place to another. kind: of the material, none for what is no material any more; unit: whether its
-- quantities are micrometres or numbers.
CREATE TABLE month_totals (
    month DATE NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('cloth', 'lining', 'interlining', 'thread', 'trim', 'none')),
    unit TEXT NOT NULL CHECK (unit IN ('count', 'length')),
    from_kind TEXT NOT NULL CHECK (from_kind IN (
        'supplier', 'piece', 'layer', 'garment', 'delivered', 'normal-loss', 'own-mistake', 'faulty-cloth', 'spoiled',
        'abandoned', 'sold', 'returned', 'own-use', 'write-down', 'adjustment'
    )),
    to_kind TEXT NOT NULL CHECK (to_kind IN (
        'supplier', 'piece', 'layer', 'garment', 'delivered', 'normal-loss', 'own-mistake', 'faulty-cloth', 'spoiled',
        'abandoned', 'sold', 'returned', 'own-use', 'write-down', 'adjustment'
    )),
    quantity_out BIGINT NOT NULL CHECK (quantity_out >= 0),
    quantity_in BIGINT NOT NULL CHECK (quantity_in >= 0),
    value BIGINT NOT NULL CHECK (value >= 0),
    PRIMARY KEY (month, kind, unit, from_kind, to_kind)
);

-- By how much the pieces of a material grew in a month, below zero where they shrank: micrometres or a number.
CREATE TABLE month_stock (
    material_id BIGINT NOT NULL REFERENCES materials (id),
    month DATE NOT NULL,
    quantity BIGINT NOT NULL,
    PRIMARY KEY (material_id, month)
);
