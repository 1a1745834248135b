-- A garment is sold once: what is agreed later is a supplement of what was accepted.
CREATE UNIQUE INDEX quotations_one_accepted ON quotations (garment_id) WHERE state = 'accepted' AND supplement_to IS NULL;
