DROP TABLE seam_allowances;
DROP TABLE seams;
