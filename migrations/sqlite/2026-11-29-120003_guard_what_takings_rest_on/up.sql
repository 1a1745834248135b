-- What brought goods into a cost layer, or changed what they cost, is not taken back under a taking that stands.
CREATE TRIGGER movements_rest_on_what_stands BEFORE INSERT ON movements
WHEN (NEW.from_kind = 'layer' OR NEW.to_kind = 'layer') AND EXISTS (SELECT 1 FROM bookings WHERE id = NEW.booking_id AND undoes IS NOT NULL) AND EXISTS (
    SELECT 1 FROM bookings AS undo
    JOIN bookings AS undone ON undone.id = undo.undoes AND undone.kind <> 'cut'
    JOIN movements AS taking ON taking.from_kind = 'layer'
        AND taking.from_id = CASE WHEN NEW.from_kind = 'layer' THEN NEW.from_id ELSE NEW.to_id END
        AND taking.booking_id > undone.id AND taking.booking_id < undo.id
    JOIN bookings AS taker ON taker.id = taking.booking_id AND taker.undoes IS NULL
    WHERE undo.id = NEW.booking_id AND taking.to_kind <> 'supplier'
    AND (taking.value > 0 OR (taking.quantity_out > 0 AND taking.to_kind <> 'normal-loss'))
    AND NOT EXISTS (SELECT 1 FROM bookings AS later WHERE later.undoes = taker.id)
)
BEGIN SELECT RAISE(ABORT, 'a later taking rests on it'); END;
