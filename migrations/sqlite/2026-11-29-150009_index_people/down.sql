DROP INDEX work_entries_of_person;
DROP INDEX operations_of_person;
DROP INDEX tokens_of_person;
