-- Who may use the book. The secret itself is never here: hash is its SHA-256 in hexadecimal digits, grants are words with
-- blanks between them.
CREATE TABLE tokens (
    id BIGINT PRIMARY KEY NOT NULL,
    person TEXT NOT NULL CHECK (person <> ''),
    role TEXT NOT NULL CHECK (role IN ('owner', 'maker', 'viewer')),
    grants TEXT NOT NULL,
    hash TEXT NOT NULL UNIQUE CHECK (length(hash) = 64),
    made_at TIMESTAMP NOT NULL,
    made_by TEXT NOT NULL,
    revoked_at TIMESTAMP,
    revoked_by TEXT,
    CHECK ((revoked_at IS NULL) = (revoked_by IS NULL))
);
