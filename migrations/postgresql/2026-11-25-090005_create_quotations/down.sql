DROP TABLE payments;
DROP TABLE quotation_versions;
DROP TABLE quotations;
