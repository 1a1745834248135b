-- The workshop's settings, and the numbers that codes are made of.
CREATE TABLE workshops (
    id INTEGER PRIMARY KEY NOT NULL CHECK (id = 1),
    currency TEXT NOT NULL CHECK (length(currency) = 3),
    currency_fixed BOOLEAN NOT NULL,
    zone TEXT NOT NULL,
    units TEXT NOT NULL CHECK (units IN ('metric', 'imperial')),
    cutting_step_um BIGINT NOT NULL CHECK (cutting_step_um BETWEEN 0 AND 10000000000000),
    end_allowance_um BIGINT NOT NULL CHECK (end_allowance_um BETWEEN 0 AND 10000000000000),
    offcut_length_um BIGINT NOT NULL CHECK (offcut_length_um BETWEEN 0 AND 10000000000000),
    offcut_width_um BIGINT NOT NULL CHECK (offcut_width_um BETWEEN 0 AND 10000000000000),
    strip_value TEXT NOT NULL CHECK (strip_value IN ('area', 'zero')),
    pooled_method TEXT NOT NULL CHECK (pooled_method IN ('fifo', 'average')),
    pooled_method_fixed BOOLEAN NOT NULL
);

CREATE TABLE counters (
    kind TEXT PRIMARY KEY NOT NULL,
    next_number BIGINT NOT NULL CHECK (next_number > 0)
);

-- per_hour: ten-thousandths of the currency an hour.
CREATE TABLE pay_rates (
    id INTEGER PRIMARY KEY NOT NULL,
    person TEXT NOT NULL CHECK (person <> ''),
    paid BOOLEAN NOT NULL,
    per_hour BIGINT NOT NULL CHECK (per_hour BETWEEN 0 AND 10000000000000),
    from_date DATE NOT NULL,
    UNIQUE (person, from_date)
);

-- A ratio: millionths of the currency over minutes.
CREATE TABLE overhead_rates (
    id INTEGER PRIMARY KEY NOT NULL,
    amount BIGINT NOT NULL CHECK (amount BETWEEN 0 AND 1000000000000000),
    minutes BIGINT NOT NULL CHECK (minutes > 0),
    from_date DATE NOT NULL UNIQUE
);

CREATE TABLE suppliers (
    id INTEGER PRIMARY KEY NOT NULL,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    note TEXT NOT NULL
);

CREATE TABLE customers (
    id INTEGER PRIMARY KEY NOT NULL,
    name TEXT NOT NULL UNIQUE CHECK (name <> ''),
    note TEXT NOT NULL
);
