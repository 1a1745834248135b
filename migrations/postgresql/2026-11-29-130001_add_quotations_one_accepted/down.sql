DROP INDEX quotations_one_accepted;
