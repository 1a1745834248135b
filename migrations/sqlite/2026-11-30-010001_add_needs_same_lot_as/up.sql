-- The garment whose lot a need must be of, as its JSON says: when that one moves to another lot, the promises of this need are looked at again.
ALTER TABLE needs ADD COLUMN same_lot_as BIGINT REFERENCES garments (id);
UPDATE needs SET same_lot_as = CAST(substr(json_extract(need, '$.same_lot_as'), 2) AS INTEGER)
WHERE json_extract(need, '$.same_lot_as') IS NOT NULL;
CREATE INDEX needs_by_same_lot ON needs (same_lot_as) WHERE same_lot_as IS NOT NULL;
