DROP TABLE customer_measures;
DROP TABLE traces;
DROP TABLE movements;
DROP TABLE booking_subjects;
DROP TABLE bookings;
DROP TABLE requests;
DROP FUNCTION stay_in_open_books();
DROP FUNCTION movements_rest_on_what_stands();
