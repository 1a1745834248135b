DROP TABLE customer_measures;
DROP TABLE traces;
DROP TABLE movements;
DROP TABLE booking_subjects;
DROP TABLE bookings;
DROP TABLE requests;
