UPDATE volunteers SET brings = '[1]' WHERE id = 3;
UPDATE crew_rules SET season_month = 9 WHERE id = 1;
INSERT INTO attendance VALUES (8, 3, 1, 45);
