-- What is sewn on one garment of a plan. stitch: a number of ISO 4915, a hand stitch or a counted item; needle, under: roles
-- of the threads; seam: the rest as it was typed, JSON.
CREATE TABLE seams (
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    name TEXT NOT NULL CHECK (name <> ''),
    position BIGINT NOT NULL CHECK (position >= 0),
    stitch TEXT NOT NULL CHECK (stitch <> ''),
    count BIGINT NOT NULL CHECK (count BETWEEN 1 AND 10000),
    length_um BIGINT CHECK (length_um BETWEEN 1 AND 10000000000000),
    needle TEXT NOT NULL CHECK (needle <> ''),
    under TEXT NOT NULL CHECK (under <> ''),
    seam TEXT NOT NULL CHECK (seam <> ''),
    detail TEXT CHECK (detail <> ''),
    PRIMARY KEY (garment_id, name)
);

-- What is added to the thread of a plan's seams, where it is not the usual: a tail at each start and finish, and the share
-- that is wasted.
CREATE TABLE seam_allowances (
    garment_id BIGINT PRIMARY KEY NOT NULL REFERENCES garments (id),
    ends_um BIGINT NOT NULL CHECK (ends_um BETWEEN 0 AND 1000000),
    waste_ppm BIGINT NOT NULL CHECK (waste_ppm BETWEEN 0 AND 1000000)
);
