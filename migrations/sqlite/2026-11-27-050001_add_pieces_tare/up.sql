-- Mass of the empty reel or core that this piece is wound on, once it was said for it.
ALTER TABLE pieces ADD COLUMN tare_mg BIGINT CHECK (tare_mg BETWEEN 0 AND 100000000000);
-- True while the length was worked out from a mass.
ALTER TABLE pieces ADD COLUMN estimated BOOLEAN NOT NULL DEFAULT FALSE;
