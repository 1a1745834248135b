-- A set that matches: counted trims from several pieces of one lot, promised in parts. set_id: the first promise of the set.
ALTER TABLE reservations ADD COLUMN set_id BIGINT REFERENCES reservations (id)
    CHECK (set_id IS NULL OR set_id <= id);
CREATE INDEX reservations_by_set ON reservations (set_id) WHERE set_id IS NOT NULL;
CREATE TRIGGER reservations_of_one_lot_insert BEFORE INSERT ON reservations
WHEN NEW.set_id IS NOT NULL AND EXISTS (
    SELECT 1 FROM reservations AS other
    JOIN pieces AS there ON there.id = other.piece_id
    JOIN pieces AS here ON here.id = NEW.piece_id
    WHERE other.set_id = NEW.set_id AND other.id <> NEW.id
    AND (there.lot_id <> here.lot_id OR other.need_id <> NEW.need_id)
)
BEGIN SELECT RAISE(ABORT, 'a set is of one lot and one need'); END;
CREATE TRIGGER reservations_of_one_lot_update BEFORE UPDATE ON reservations
WHEN NEW.set_id IS NOT NULL AND EXISTS (
    SELECT 1 FROM reservations AS other
    JOIN pieces AS there ON there.id = other.piece_id
    JOIN pieces AS here ON here.id = NEW.piece_id
    WHERE other.set_id = NEW.set_id AND other.id <> NEW.id
    AND (there.lot_id <> here.lot_id OR other.need_id <> NEW.need_id)
)
BEGIN SELECT RAISE(ABORT, 'a set is of one lot and one need'); END;
CREATE TRIGGER reservations_set_stays_update BEFORE UPDATE ON reservations
WHEN NEW.set_id IS NOT OLD.set_id
BEGIN SELECT RAISE(ABORT, 'a promise stays in its set'); END;
