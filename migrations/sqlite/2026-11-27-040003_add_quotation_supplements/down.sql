DROP INDEX reservations_by_quotation;
ALTER TABLE reservations DROP COLUMN quotation_id;
DROP INDEX quotations_by_supplement;
DROP INDEX quotations_one_open_supplement;
ALTER TABLE quotations DROP COLUMN supplement_to;
