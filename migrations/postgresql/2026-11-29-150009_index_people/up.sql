-- A person is not changed without a look at who refers to them.
CREATE INDEX tokens_of_person ON tokens (person_id);
CREATE INDEX operations_of_person ON operations (person_id);
CREATE INDEX work_entries_of_person ON work_entries (person_id);
