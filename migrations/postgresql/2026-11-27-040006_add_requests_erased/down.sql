DROP TRIGGER requests_never_change_update ON requests;
CREATE TRIGGER requests_never_change_update BEFORE UPDATE ON requests FOR EACH ROW
EXECUTE FUNCTION requests_never_change();
ALTER TABLE requests DROP COLUMN erased_at;
ALTER TABLE customers DROP COLUMN known_as;
