-- Bookings, their movements, and the requests that asked for them. Nothing here is ever changed or deleted.

-- A repeat that is refused settles its id: the answer is the problem then (refused), and a first sending still under way meets
-- it. A record that told of an erased customer is emptied for good (erased_at); nothing else of it ever changes.
CREATE TABLE requests (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    act TEXT NOT NULL,
    caller TEXT NOT NULL,
    content TEXT NOT NULL,
    answer TEXT NOT NULL,
    answered_at TIMESTAMP NOT NULL,
    erased_at TIMESTAMP,
    refused BOOLEAN NOT NULL
);

CREATE TABLE bookings (
    id INTEGER PRIMARY KEY NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN (
        'bought', 'charged', 'edited', 'placed', 'flawed', 'split', 'measured', 'tested', 'prepared', 'planned', 'reserved',
        'released', 'expired', 'cut', 'worked', 'finished', 'delivered', 'cancelled', 'quoted', 'accepted', 'paid',
        'dropped', 'laid', 'rated', 'closed', 'set', 'let-in', 'revoked', 'erased', 'undone', 'given', 'sold', 'discarded'
    )),
    summary TEXT NOT NULL,
    on_date DATE NOT NULL,
    booked_at TIMESTAMP NOT NULL,
    undoes BIGINT UNIQUE REFERENCES bookings (id),
    detail TEXT NOT NULL,
    person_id BIGINT NOT NULL REFERENCES people (id),
    request_id TEXT NOT NULL REFERENCES requests (id) DEFERRABLE INITIALLY DEFERRED,
    CHECK (undoes IS NULL OR undoes <> id)
);
-- What one request booked is taken back together.
CREATE INDEX bookings_by_request ON bookings (request_id);
CREATE INDEX bookings_by_person ON bookings (person_id, id);
-- The bookings of some days are added up without the others.
CREATE INDEX bookings_by_day ON bookings (on_date);

CREATE TABLE booking_subjects (
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    subject TEXT NOT NULL CHECK (subject IN ('garment', 'lot', 'purchase')),
    subject_id BIGINT NOT NULL,
    PRIMARY KEY (subject, subject_id, booking_id)
);
CREATE INDEX booking_subjects_by_booking ON booking_subjects (booking_id);

-- sequence is the only order. Quantities are micrometres or counts, values millionths of the currency.
CREATE TABLE movements (
    sequence INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    from_kind TEXT NOT NULL CHECK (from_kind IN (
        'supplier', 'opening', 'piece', 'layer', 'garment', 'delivered', 'normal-loss', 'own-mistake', 'faulty-cloth', 'spoiled',
        'abandoned', 'discarded', 'given', 'sold', 'returned', 'own-use', 'write-down', 'adjustment'
    )),
    from_id BIGINT NOT NULL,
    to_kind TEXT NOT NULL CHECK (to_kind IN (
        'supplier', 'opening', 'piece', 'layer', 'garment', 'delivered', 'normal-loss', 'own-mistake', 'faulty-cloth', 'spoiled',
        'abandoned', 'discarded', 'given', 'sold', 'returned', 'own-use', 'write-down', 'adjustment'
    )),
    to_id BIGINT NOT NULL,
    quantity_out BIGINT NOT NULL CHECK (quantity_out BETWEEN 0 AND 10000000000000),
    quantity_in BIGINT NOT NULL CHECK (quantity_in BETWEEN 0 AND 10000000000000),
    value BIGINT NOT NULL CHECK (value BETWEEN 0 AND 1000000000000000),
    CHECK (from_kind <> to_kind OR from_id <> to_id)
);
CREATE INDEX movements_by_booking ON movements (booking_id);
-- The movements of a place are read in the order of the ledger, a batch at a time.
CREATE INDEX movements_by_from ON movements (from_kind, from_id, sequence);
CREATE INDEX movements_by_to ON movements (to_kind, to_id, sequence);

-- What a booking wrote over (`was`: JSON of what was there before), or what it rests on (no `was`).
CREATE TABLE traces (
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    facet TEXT NOT NULL CHECK (facet IN ('place', 'length', 'flaws', 'widths', 'preparation', 'tare', 'sheet', 'plan', 'garment', 'quotation', 'rating', 'books', 'charge', 'setting', 'supplier', 'material', 'customer', 'token')),
    subject_id BIGINT NOT NULL,
    part TEXT NOT NULL,
    was TEXT,
    PRIMARY KEY (booking_id, facet, subject_id, part)
);
CREATE INDEX traces_by_subject ON traces (facet, subject_id, part, booking_id);

CREATE TRIGGER movements_never_change_update BEFORE UPDATE ON movements
BEGIN SELECT RAISE(ABORT, 'movements are never changed'); END;
CREATE TRIGGER movements_never_change_delete BEFORE DELETE ON movements
BEGIN SELECT RAISE(ABORT, 'movements are never changed'); END;
CREATE TRIGGER bookings_never_change_update BEFORE UPDATE ON bookings
BEGIN SELECT RAISE(ABORT, 'bookings are never changed'); END;
CREATE TRIGGER bookings_never_change_delete BEFORE DELETE ON bookings
BEGIN SELECT RAISE(ABORT, 'bookings are never changed'); END;
CREATE TRIGGER requests_never_change_update BEFORE UPDATE ON requests
WHEN NOT (OLD.erased_at IS NULL AND NEW.erased_at IS NOT NULL AND NEW.content = '' AND NEW.answer = ''
    AND NEW.id = OLD.id AND NEW.act = OLD.act AND NEW.caller = OLD.caller AND NEW.answered_at = OLD.answered_at
    AND NEW.refused = OLD.refused)
BEGIN SELECT RAISE(ABORT, 'requests are never changed'); END;
CREATE TRIGGER requests_never_change_delete BEFORE DELETE ON requests
BEGIN SELECT RAISE(ABORT, 'requests are never changed'); END;
CREATE TRIGGER booking_subjects_never_change_update BEFORE UPDATE ON booking_subjects
BEGIN SELECT RAISE(ABORT, 'subjects of bookings are never changed'); END;
CREATE TRIGGER booking_subjects_never_change_delete BEFORE DELETE ON booking_subjects
BEGIN SELECT RAISE(ABORT, 'subjects of bookings are never changed'); END;
CREATE TRIGGER bookings_stay_in_open_books BEFORE INSERT ON bookings
WHEN NEW.on_date <= (SELECT closed_to FROM workshops WHERE id = 1)
BEGIN SELECT RAISE(ABORT, 'closed books are never changed'); END;
-- What brought goods into a cost layer, or changed what they cost, is not taken back under a taking that stands.
CREATE TRIGGER movements_rest_on_what_stands BEFORE INSERT ON movements
WHEN (NEW.from_kind = 'layer' OR NEW.to_kind = 'layer')
AND EXISTS (SELECT 1 FROM bookings WHERE id = NEW.booking_id AND undoes IS NOT NULL) AND EXISTS (
    SELECT 1 FROM bookings AS undo
    JOIN bookings AS undone ON undone.id = undo.undoes AND undone.kind NOT IN ('cut', 'given', 'sold', 'discarded')
    JOIN movements AS taking ON taking.from_kind = 'layer'
        AND taking.from_id = CASE WHEN NEW.from_kind = 'layer' THEN NEW.from_id ELSE NEW.to_id END
        AND taking.booking_id > undone.id AND taking.booking_id < undo.id
    JOIN bookings AS taker ON taker.id = taking.booking_id AND taker.undoes IS NULL
    WHERE undo.id = NEW.booking_id AND taking.to_kind NOT IN ('supplier', 'opening')
    AND (taking.value > 0 OR (taking.quantity_out > 0 AND taking.to_kind <> 'normal-loss'))
    AND NOT EXISTS (SELECT 1 FROM bookings AS later WHERE later.undoes = taker.id)
)
BEGIN SELECT RAISE(ABORT, 'a later taking rests on it'); END;

-- What customers measured, name by name; length_um as it was typed. They are deleted with the customer's name.
CREATE TABLE customer_measures (
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    undone_by BIGINT REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED CHECK (undone_by > booking_id),
    customer_id BIGINT NOT NULL REFERENCES customers (id),
    name TEXT NOT NULL CHECK (name <> ''),
    length_um BIGINT NOT NULL CHECK (length_um BETWEEN 1 AND 10000000000000),
    typed TEXT NOT NULL,
    on_date DATE NOT NULL,
    PRIMARY KEY (booking_id, name)
);
CREATE INDEX customer_measures_by_customer ON customer_measures (customer_id, on_date);
CREATE INDEX customer_measures_undone ON customer_measures (undone_by) WHERE undone_by IS NOT NULL;
