-- Overhead that was spent in a period, in millionths of the currency, both days included; one amount a period.
CREATE TABLE overhead_spent (
    id BIGINT PRIMARY KEY NOT NULL,
    from_date DATE NOT NULL,
    to_date DATE NOT NULL,
    amount BIGINT NOT NULL CHECK (amount BETWEEN 0 AND 1000000000000000),
    UNIQUE (from_date, to_date),
    CHECK (to_date >= from_date)
);

-- The work of a period is found by its days.
CREATE INDEX work_entries_by_day ON work_entries (on_date);
