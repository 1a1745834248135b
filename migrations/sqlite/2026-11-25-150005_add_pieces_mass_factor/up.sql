-- How much heavier per area a piece became than its lot is, in millionths: washing that shrinks it makes it denser.
ALTER TABLE pieces ADD COLUMN mass_factor_ppm BIGINT NOT NULL DEFAULT 1000000
    CHECK (mass_factor_ppm BETWEEN 1 AND 1000000000);
