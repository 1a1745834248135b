-- What an hour must bring, as it is typed once a year. pay, overhead: millionths of the currency; billable: share in
-- millionths of the minutes worked.
CREATE TABLE yearly_figures (
    id INTEGER PRIMARY KEY NOT NULL,
    pay BIGINT NOT NULL CHECK (pay BETWEEN 0 AND 1000000000000000),
    overhead BIGINT NOT NULL CHECK (overhead BETWEEN 0 AND 1000000000000000),
    weeks BIGINT NOT NULL CHECK (weeks BETWEEN 1 AND 53),
    week_minutes BIGINT NOT NULL CHECK (week_minutes BETWEEN 1 AND 10080),
    billable_ppm BIGINT NOT NULL CHECK (billable_ppm BETWEEN 1 AND 1000000),
    from_date DATE NOT NULL UNIQUE
);

-- Operations that the workshop does often. minutes: typical ones, for one garment.
CREATE TABLE usual_operations (
    name_search TEXT PRIMARY KEY NOT NULL CHECK (name_search <> ''),
    name TEXT NOT NULL CHECK (name <> ''),
    kind TEXT NOT NULL CHECK (kind IN ('machine', 'hand', 'cutting', 'fitting', 'pressing', 'admin')),
    minutes BIGINT NOT NULL CHECK (minutes BETWEEN 1 AND 10000000),
    billable BOOLEAN NOT NULL
);

-- Past work is found by the names of garments and operations, whatever their capitals. In rows from before, SQLite finds
-- the capitals of A to Z only.
ALTER TABLE garments ADD COLUMN name_search TEXT NOT NULL DEFAULT '';
UPDATE garments SET name_search = lower(name);
CREATE INDEX garments_by_name ON garments (name_search, id);
ALTER TABLE work_entries ADD COLUMN operation_search TEXT NOT NULL DEFAULT '';
UPDATE work_entries SET operation_search = lower(operation);
CREATE INDEX work_entries_by_operation ON work_entries (operation_search, garment_id);
