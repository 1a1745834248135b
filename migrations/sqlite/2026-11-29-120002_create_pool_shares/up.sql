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
    lot_id BIGINT NOT NULL REFERENCES lots (id),
    to_kind TEXT NOT NULL,
    to_id BIGINT NOT NULL,
    share BIGINT NOT NULL CHECK (share BETWEEN -1000000000 AND 1000000000 AND share <> 0),
    PRIMARY KEY (booking_id, lot_id)
);
CREATE INDEX pool_takings_by_lot ON pool_takings (lot_id);

-- Pools of before: what is left of them counts as the line's own as far as it reaches; the rest is gone.
INSERT INTO pool_shares (lot_id, layer_id, share)
SELECT lots.id, layers.id,
    CASE WHEN layers.quantity >= purchase_lines.quantity THEN 1000000000
    ELSE CAST(layers.quantity * 1000000000.0 / purchase_lines.quantity AS BIGINT) END
FROM layers
JOIN lots ON lots.material_id = layers.material_id AND lots.owner_id IS NULL
JOIN purchase_lines ON purchase_lines.lot_id = lots.id
WHERE layers.lot_id IS NULL;
INSERT INTO pool_takings (booking_id, lot_id, to_kind, to_id, share)
SELECT purchases.booking_id, pool_shares.lot_id, 'adjustment', 0, 1000000000 - pool_shares.share
FROM pool_shares
JOIN lots ON lots.id = pool_shares.lot_id
JOIN purchases ON purchases.id = lots.purchase_id
WHERE pool_shares.share < 1000000000;
