-- Details: named features of a garment (a hand-rolled hem) that own needs, operations and minutes. detail_search: the name
-- without its capitals, by which a detail is found on other garments.
ALTER TABLE needs ADD COLUMN detail TEXT CHECK (detail <> '');
ALTER TABLE needs ADD COLUMN detail_search TEXT
    CHECK (detail_search <> '' AND (detail IS NULL) = (detail_search IS NULL));
CREATE INDEX needs_by_detail ON needs (detail_search, garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX needs_with_detail ON needs (garment_id) WHERE detail_search IS NOT NULL;
ALTER TABLE operations ADD COLUMN detail TEXT CHECK (detail <> '');
ALTER TABLE operations ADD COLUMN detail_search TEXT
    CHECK (detail_search <> '' AND (detail IS NULL) = (detail_search IS NULL));
CREATE INDEX operations_by_detail ON operations (detail_search, garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX operations_with_detail ON operations (garment_id) WHERE detail_search IS NOT NULL;
ALTER TABLE work_entries ADD COLUMN detail TEXT CHECK (detail <> '');
ALTER TABLE work_entries ADD COLUMN detail_search TEXT
    CHECK (detail_search <> '' AND (detail IS NULL) = (detail_search IS NULL));
CREATE INDEX work_entries_by_detail ON work_entries (detail_search, garment_id) WHERE detail_search IS NOT NULL;
CREATE INDEX work_entries_with_detail ON work_entries (garment_id) WHERE detail_search IS NOT NULL;

-- What a detail was worth on a garment that was made, from 1 to 5. booking_id: the booking that rated it last.
CREATE TABLE detail_ratings (
    garment_id BIGINT NOT NULL REFERENCES garments (id),
    name_search TEXT NOT NULL CHECK (name_search <> ''),
    name TEXT NOT NULL CHECK (name <> ''),
    rating BIGINT NOT NULL CHECK (rating BETWEEN 1 AND 5),
    booking_id BIGINT NOT NULL REFERENCES bookings (id) DEFERRABLE INITIALLY DEFERRED,
    PRIMARY KEY (garment_id, name_search)
);
CREATE INDEX detail_ratings_by_name ON detail_ratings (name_search, garment_id);
CREATE INDEX detail_ratings_by_booking ON detail_ratings (booking_id);

-- Which of a quotation's options was accepted; null: it had none.
ALTER TABLE quotations ADD COLUMN accepted_option TEXT
    CHECK (accepted_option <> '' AND (accepted_option IS NULL OR accepted IS NOT NULL));
