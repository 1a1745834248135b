DROP TABLE month_stock;
DROP TABLE month_totals;
