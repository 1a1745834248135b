DROP INDEX needs_by_same_lot;
ALTER TABLE needs DROP COLUMN same_lot_as;
