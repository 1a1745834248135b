DROP TRIGGER bookings_never_change_update;
DROP TRIGGER bookings_never_change_delete;
DROP TRIGGER movements_never_change_update;
DROP TRIGGER movements_never_change_delete;
DROP TABLE requests;
DROP TABLE movements;
DROP TABLE booking_subjects;
DROP TABLE bookings;
