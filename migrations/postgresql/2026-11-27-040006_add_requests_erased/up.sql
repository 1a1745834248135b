-- A customer's name can be erased. known_as: former names, one a line, so that all of them are found.
ALTER TABLE customers ADD COLUMN known_as TEXT NOT NULL DEFAULT '';

-- A record of a request that told of an erased customer is emptied for good; nothing else of it ever changes.
ALTER TABLE requests ADD COLUMN erased_at TIMESTAMP;
DROP TRIGGER requests_never_change_update ON requests;
CREATE TRIGGER requests_never_change_update BEFORE UPDATE ON requests FOR EACH ROW
WHEN (NOT (OLD.erased_at IS NULL AND NEW.erased_at IS NOT NULL AND NEW.content = '' AND NEW.answer = ''
    AND NEW.id = OLD.id AND NEW.act = OLD.act AND NEW.caller = OLD.caller AND NEW.answered_at = OLD.answered_at))
EXECUTE FUNCTION requests_never_change();

-- A delivery names its customer by the code; it used to say the name.
DROP TRIGGER bookings_never_change_update ON bookings;
UPDATE bookings SET summary = (
    SELECT CASE WHEN bookings.undoes IS NULL THEN '' ELSE 'Took back B' || bookings.undoes || ': ' END
        || 'Delivered G' || garments.id || ' ' || garments.name || ' to C' || garments.customer_id || '.'
    FROM booking_subjects JOIN garments ON garments.id = booking_subjects.subject_id
    WHERE booking_subjects.booking_id = bookings.id AND booking_subjects.subject = 'garment'
    LIMIT 1
) WHERE (kind = 'delivered' OR summary LIKE 'Took back B%: Delivered G%') AND EXISTS (
    SELECT 1 FROM booking_subjects JOIN garments ON garments.id = booking_subjects.subject_id
    WHERE booking_subjects.booking_id = bookings.id AND booking_subjects.subject = 'garment'
        AND garments.customer_id IS NOT NULL
);
CREATE TRIGGER bookings_never_change_update BEFORE UPDATE ON bookings FOR EACH ROW
EXECUTE FUNCTION bookings_never_change();
