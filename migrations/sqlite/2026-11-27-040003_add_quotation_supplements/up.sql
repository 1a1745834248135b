-- supplement_to: the accepted quotation whose later change this one prices; one of them is open at a time.
ALTER TABLE quotations ADD COLUMN supplement_to BIGINT REFERENCES quotations (id) CHECK (supplement_to < id);
CREATE UNIQUE INDEX quotations_one_open_supplement ON quotations (supplement_to) WHERE state = 'open';
CREATE INDEX quotations_by_supplement ON quotations (supplement_to, id);

-- The quotation that a promise was made with, open or accepted. Ended promises are never changed.
ALTER TABLE reservations ADD COLUMN quotation_id BIGINT REFERENCES quotations (id);
CREATE INDEX reservations_by_quotation ON reservations (quotation_id) WHERE quotation_id IS NOT NULL;
UPDATE reservations
SET quotation_id = (SELECT quotations.id FROM quotations WHERE quotations.accepted_in = reservations.booking_id)
WHERE state = 'active';
