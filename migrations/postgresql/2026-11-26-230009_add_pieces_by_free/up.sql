-- On a large shelf the pieces nearest to a length are sought, not all of them.
CREATE INDEX pieces_by_free ON pieces (longest_free, id) WHERE quantity > 0;
