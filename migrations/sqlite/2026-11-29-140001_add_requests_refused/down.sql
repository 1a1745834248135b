DROP TRIGGER requests_never_change_update;
CREATE TRIGGER requests_never_change_update BEFORE UPDATE ON requests
WHEN NOT (OLD.erased_at IS NULL AND NEW.erased_at IS NOT NULL AND NEW.content = '' AND NEW.answer = ''
    AND NEW.id = OLD.id AND NEW.act = OLD.act AND NEW.caller = OLD.caller AND NEW.answered_at = OLD.answered_at)
BEGIN SELECT RAISE(ABORT, 'requests are never changed'); END;
ALTER TABLE requests DROP COLUMN refused;
