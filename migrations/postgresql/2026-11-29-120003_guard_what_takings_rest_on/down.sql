DROP TRIGGER movements_rest_on_what_stands ON movements;
DROP FUNCTION movements_rest_on_what_stands();
