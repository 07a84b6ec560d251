INSERT INTO gear (id, kind, name, owner_id, assumed) VALUES (11, 'instrument', 'Long Tom', 3, '["Glass"]');
INSERT INTO instruments VALUES (11, 'newtonian', 203, 1200, 0, 0, 0.24, 30, 'plate', 0, 1, '2in', 38, 60, 'rocker-box', 0, 0, 0, 0, 90, 'side', 0.5, 0.9, 0.15, 10, 1, 14, 0, 0, 0, 0, 0, 0, NULL, 'shed', 0, 0, '3', 1.2, NULL);
INSERT INTO gear (id, kind, name) VALUES (12, 'eyepiece', '25 standard');
INSERT INTO eyepieces VALUES (12, 25, 50, 21.2, '1.25in', 17, 'plossl', 0);
INSERT INTO gear (id, kind, name) VALUES (13, 'finder', 'dot');
INSERT INTO finders VALUES (13, 'unit-power', 0, 1, 0, 11);
