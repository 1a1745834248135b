DROP INDEX movements_by_from;
DROP INDEX movements_by_to;
CREATE INDEX movements_by_from ON movements (from_kind, from_id);
CREATE INDEX movements_by_to ON movements (to_kind, to_id);
