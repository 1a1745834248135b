DROP TABLE payments;
DROP TABLE quotation_versions;
DROP FUNCTION quotation_versions_never_change();
DROP TABLE quotations;
DROP TABLE tax_rates;
ALTER TABLE workshops DROP COLUMN tax_place;
ALTER TABLE workshops DROP COLUMN tax_rounding;
ALTER TABLE workshops DROP COLUMN prices_shown;
