DROP TABLE traces;
