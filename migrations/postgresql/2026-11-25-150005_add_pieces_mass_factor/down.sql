ALTER TABLE pieces DROP COLUMN mass_factor_ppm;
