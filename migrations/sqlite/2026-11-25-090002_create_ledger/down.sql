DROP TABLE customer_measures;
DROP TABLE traces;
DROP TABLE requests;
DROP TABLE movements;
DROP TABLE booking_subjects;
DROP TABLE bookings;
