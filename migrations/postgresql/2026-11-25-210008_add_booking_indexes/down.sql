DROP INDEX lots_by_owner;
DROP INDEX wash_tests_by_booking;
DROP INDEX purchase_charges_by_booking;
DROP INDEX purchases_by_booking;
DROP INDEX reservations_by_end;
DROP INDEX reservations_by_booking;
