-- A set that matches: counted trims from several pieces of one lot, promised in parts. set_id: the first promise of the set.
ALTER TABLE reservations ADD COLUMN set_id BIGINT REFERENCES reservations (id)
    CHECK (set_id IS NULL OR set_id <= id);
CREATE INDEX reservations_by_set ON reservations (set_id) WHERE set_id IS NOT NULL;
CREATE FUNCTION reservations_of_one_lot() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF EXISTS (
    SELECT 1 FROM reservations AS other
    JOIN pieces AS there ON there.id = other.piece_id
    JOIN pieces AS here ON here.id = NEW.piece_id
    WHERE other.set_id = NEW.set_id AND other.id <> NEW.id
    AND (there.lot_id <> here.lot_id OR other.need_id <> NEW.need_id)
) THEN
        RAISE EXCEPTION 'a set is of one lot and one need' USING ERRCODE = 'check_violation';
    END IF;
    RETURN NEW;
END $$;
CREATE TRIGGER reservations_of_one_lot_insert BEFORE INSERT ON reservations FOR EACH ROW
WHEN (NEW.set_id IS NOT NULL)
EXECUTE FUNCTION reservations_of_one_lot();
CREATE TRIGGER reservations_of_one_lot_update BEFORE UPDATE ON reservations FOR EACH ROW
WHEN (NEW.set_id IS NOT NULL)
EXECUTE FUNCTION reservations_of_one_lot();
CREATE FUNCTION reservations_set_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION 'a promise stays in its set' USING ERRCODE = 'check_violation'; END $$;
CREATE TRIGGER reservations_set_stays_update BEFORE UPDATE ON reservations FOR EACH ROW
WHEN (NEW.set_id IS DISTINCT FROM OLD.set_id)
EXECUTE FUNCTION reservations_set_stays();
