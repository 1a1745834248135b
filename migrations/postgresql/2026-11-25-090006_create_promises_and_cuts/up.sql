-- A promise leaves 'active' exactly once; then it holds nothing. asked: what was asked and the sum, as JSON. quotation_id: the
-- quotation that it was made with, open or accepted. first_id: the first promise of its line, in whose place undo made this one.
-- lengths: separate lengths that it is of, none of a share. share: a part of one unit, in micrometres of washed length or of thread,
-- or a number of trims. lay_id: the kept lay that it was made by.
CREATE TABLE reservations (
    id BIGINT PRIMARY KEY NOT NULL,
    need_id BIGINT NOT NULL REFERENCES needs (id),
    piece_id BIGINT NOT NULL REFERENCES pieces (id),
    state TEXT NOT NULL CHECK (state IN ('active', 'cut', 'released', 'expired', 'broken')),
    held BIGINT NOT NULL CHECK (held BETWEEN 0 AND 10000000000000),
    stretch BIGINT NOT NULL CHECK (stretch >= 0),
    asked TEXT NOT NULL,
    promised DATE NOT NULL,
    until DATE,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    ended_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    ended_because TEXT,
    quotation_id BIGINT REFERENCES quotations (id),
    first_id BIGINT REFERENCES reservations (id) CHECK (first_id < id),
    lengths BIGINT NOT NULL CHECK (lengths >= 0),
    share BIGINT CHECK (share > 0),
    lay_id BIGINT REFERENCES lays (id),
    CHECK ((share IS NULL) = (lengths > 0)),
    CHECK (state = 'active' OR held = 0),
    CHECK (state <> 'active' OR held > 0),
    CHECK ((state = 'active') = (ended_by IS NULL))
);
-- A garment's active promises are found without those that ended.
CREATE INDEX reservations_by_need_state ON reservations (need_id, state);
CREATE INDEX reservations_by_piece ON reservations (piece_id) WHERE state = 'active';
CREATE INDEX reservations_by_quotation ON reservations (quotation_id) WHERE quotation_id IS NOT NULL;
CREATE INDEX reservations_by_line ON reservations (first_id) WHERE first_id IS NOT NULL;
CREATE INDEX reservations_by_lay ON reservations (lay_id) WHERE lay_id IS NOT NULL;
CREATE INDEX reservations_by_booking ON reservations (booking_id);
CREATE INDEX reservations_by_end ON reservations (ended_by) WHERE ended_by IS NOT NULL;

-- What was cut. quantity: off the piece, what of its rest was wasted not included;
-- strip_id, outer_id: pieces that it made. drawn: what it took off its promise (reservation_id); fills: how much of its need's
-- units it is, in the measure of a share; width_um: usable width of cloth when it was cut;
-- lay_id: the kept lay that it was cut by.
CREATE TABLE cuts (
    booking_id BIGINT PRIMARY KEY NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    need_id BIGINT NOT NULL REFERENCES needs (id),
    piece_id BIGINT NOT NULL REFERENCES pieces (id),
    reason TEXT NOT NULL CHECK (reason IN (
        'planned', 'own-mistake', 'faulty-cloth', 'customer-change', 'toile', 'swatch'
    )),
    quantity BIGINT NOT NULL CHECK (quantity BETWEEN 1 AND 10000000000000),
    wasted BIGINT NOT NULL CHECK (wasted BETWEEN 0 AND 10000000000000),
    panel_width_um BIGINT CHECK (panel_width_um BETWEEN 1 AND 10000000000000),
    strip_id BIGINT REFERENCES pieces (id),
    outer_id BIGINT REFERENCES pieces (id),
    reservation_id BIGINT REFERENCES reservations (id),
    drawn BIGINT NOT NULL CHECK (drawn BETWEEN 0 AND quantity),
    fills BIGINT NOT NULL CHECK (fills >= 0),
    width_um BIGINT CHECK (width_um > 0),
    lay_id BIGINT REFERENCES lays (id),
    CHECK (drawn = 0 OR reservation_id IS NOT NULL)
);
CREATE INDEX cuts_by_need ON cuts (need_id, booking_id);
CREATE INDEX cuts_by_piece ON cuts (piece_id, booking_id);
CREATE INDEX cuts_by_promise ON cuts (reservation_id) WHERE reservation_id IS NOT NULL;
CREATE INDEX cuts_by_lay ON cuts (lay_id) WHERE lay_id IS NOT NULL;
CREATE INDEX cuts_by_strip ON cuts (strip_id) WHERE strip_id IS NOT NULL;
CREATE INDEX cuts_by_outer ON cuts (outer_id) WHERE outer_id IS NOT NULL;
CREATE INDEX cuts_undone ON cuts (undone_by) WHERE undone_by IS NOT NULL;

-- What a plan said of what an act ended of it: a cut, of the units that it served; a garment finished or given up, of what was
-- never cut. Millionths; micrometres or pieces.
CREATE TABLE planned_costs (
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    position BIGINT NOT NULL CHECK (position >= 0),
    need_id BIGINT NOT NULL REFERENCES needs (id),
    lot_id BIGINT REFERENCES lots (id),
    quantity BIGINT CHECK (quantity > 0),
    value BIGINT CHECK (value BETWEEN 0 AND 1000000000000000),
    PRIMARY KEY (booking_id, position)
);
CREATE INDEX planned_costs_by_need ON planned_costs (need_id);
CREATE INDEX planned_costs_by_lot ON planned_costs (lot_id) WHERE lot_id IS NOT NULL;
CREATE INDEX planned_costs_undone ON planned_costs (undone_by) WHERE undone_by IS NOT NULL;

CREATE TRIGGER cuts_never_change_update BEFORE UPDATE OF
    booking_id, need_id, piece_id, reason, quantity, wasted, panel_width_um, strip_id, outer_id, reservation_id, drawn,
    fills, width_um, lay_id ON cuts FOR EACH ROW
EXECUTE FUNCTION refuse('cuts are never changed');
CREATE TRIGGER cuts_never_change_delete BEFORE DELETE ON cuts FOR EACH ROW
EXECUTE FUNCTION refuse('cuts are never changed');
CREATE TRIGGER reservations_end_once_update BEFORE UPDATE ON reservations FOR EACH ROW
WHEN (OLD.state <> 'active')
EXECUTE FUNCTION refuse('a promise ends exactly once');
CREATE TRIGGER reservations_never_change_delete BEFORE DELETE ON reservations FOR EACH ROW
EXECUTE FUNCTION refuse('promises are never deleted');
CREATE TRIGGER reservations_line_stays_update BEFORE UPDATE ON reservations FOR EACH ROW
WHEN (NEW.first_id IS DISTINCT FROM OLD.first_id)
EXECUTE FUNCTION refuse('a promise stays in its line');
