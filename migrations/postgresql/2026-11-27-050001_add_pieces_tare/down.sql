ALTER TABLE pieces DROP COLUMN estimated;
ALTER TABLE pieces DROP COLUMN tare_mg;
