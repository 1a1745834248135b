DROP TABLE work_reversals;
DROP TABLE work_entries;
DROP TABLE detail_ratings;
DROP TABLE seam_allowances;
DROP TABLE seams;
DROP TABLE operations;
DROP TABLE needs;
DROP TABLE garments;
