-- The garment whose lot a need must be of, as its JSON says: when that one moves to another lot, the promises of this need are
-- looked at again.
ALTER TABLE needs ADD COLUMN same_lot_as BIGINT REFERENCES garments (id);
UPDATE needs SET same_lot_as = (
    SELECT garments.id FROM garments WHERE needs.need LIKE '%"same_lot_as":"G' || garments.id || '"%'
)
WHERE need LIKE '%"same_lot_as":"G%';
CREATE INDEX needs_by_same_lot ON needs (same_lot_as) WHERE same_lot_as IS NOT NULL;
