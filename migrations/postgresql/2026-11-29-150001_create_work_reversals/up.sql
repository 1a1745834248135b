-- Minutes whose overhead is taken back, or given again: sign is -1 or 1. They count on on_date, which is the day of the work
-- unless that lay in closed books; cancelled: because their garment was given up, or that was taken back.
CREATE TABLE work_reversals (
    id BIGINT PRIMARY KEY NOT NULL,
    work_id BIGINT NOT NULL REFERENCES work_entries (id),
    on_date DATE NOT NULL,
    sign BIGINT NOT NULL CHECK (sign IN (-1, 1)),
    cancelled BOOLEAN NOT NULL
);
CREATE INDEX work_reversals_by_day ON work_reversals (on_date);
CREATE INDEX work_reversals_by_work ON work_reversals (work_id);

-- What was taken back before counts on its own day, as it did.
INSERT INTO work_reversals (id, work_id, on_date, sign, cancelled)
SELECT work_entries.id, work_entries.id, work_entries.on_date, -1, NOT work_entries.undone
FROM work_entries INNER JOIN garments ON garments.id = work_entries.garment_id
WHERE work_entries.undone OR garments.state = 'cancelled';

CREATE FUNCTION work_reversals_never_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN RAISE EXCEPTION 'reversals of work are never changed' USING ERRCODE = 'check_violation'; END $$;
CREATE TRIGGER work_reversals_never_change_update BEFORE UPDATE ON work_reversals FOR EACH ROW
EXECUTE FUNCTION work_reversals_never_change();
CREATE TRIGGER work_reversals_never_change_delete BEFORE DELETE ON work_reversals FOR EACH ROW
EXECUTE FUNCTION work_reversals_never_change();
CREATE TRIGGER work_reversals_stay_in_open_books BEFORE INSERT ON work_reversals
FOR EACH ROW EXECUTE FUNCTION stay_in_open_books();
