-- A repeat that is refused settles its id: the answer is the problem then, and a first sending still under way meets it.
ALTER TABLE requests ADD COLUMN refused BOOLEAN NOT NULL DEFAULT FALSE;
DROP TRIGGER requests_never_change_update ON requests;
CREATE TRIGGER requests_never_change_update BEFORE UPDATE ON requests FOR EACH ROW
WHEN (NOT (OLD.erased_at IS NULL AND NEW.erased_at IS NOT NULL AND NEW.content = '' AND NEW.answer = ''
    AND NEW.id = OLD.id AND NEW.act = OLD.act AND NEW.caller = OLD.caller AND NEW.answered_at = OLD.answered_at
    AND NEW.refused = OLD.refused))
EXECUTE FUNCTION requests_never_change();
