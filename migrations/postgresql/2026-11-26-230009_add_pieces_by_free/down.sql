DROP INDEX pieces_by_free;
