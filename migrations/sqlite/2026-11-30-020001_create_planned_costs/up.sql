-- What a plan said of what an act ended of it: a cut, of the units that it served; a garment finished or given up, of what was
-- never cut. It counts while its booking stands. Millionths; micrometres or pieces.
CREATE TABLE planned_costs (
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    position BIGINT NOT NULL CHECK (position >= 0),
    need_id BIGINT NOT NULL REFERENCES needs (id),
    lot_id BIGINT REFERENCES lots (id),
    quantity BIGINT CHECK (quantity > 0),
    value BIGINT NOT NULL CHECK (value BETWEEN 0 AND 1000000000000000),
    PRIMARY KEY (booking_id, position)
);
CREATE INDEX planned_costs_by_need ON planned_costs (need_id);
CREATE INDEX planned_costs_by_lot ON planned_costs (lot_id) WHERE lot_id IS NOT NULL;
