DROP TRIGGER requests_never_change_update;
CREATE TRIGGER requests_never_change_update BEFORE UPDATE ON requests
BEGIN SELECT RAISE(ABORT, 'requests are never changed'); END;
ALTER TABLE requests DROP COLUMN erased_at;
ALTER TABLE customers DROP COLUMN known_as;
