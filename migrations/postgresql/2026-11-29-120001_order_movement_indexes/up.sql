-- The movements of a place are read in the order of the ledger, a batch at a time.
DROP INDEX movements_by_from;
DROP INDEX movements_by_to;
CREATE INDEX movements_by_from ON movements (from_kind, from_id, sequence);
CREATE INDEX movements_by_to ON movements (to_kind, to_id, sequence);
