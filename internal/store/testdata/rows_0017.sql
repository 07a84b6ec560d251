INSERT INTO site_grounds (site_id, version, outline) VALUES (5, 3, '[[0,0],[50,0],[50,30],[0,30]]');
INSERT INTO ground_features (site_id, position, kind, name, points, radius, height) VALUES (5, 0, 'tree', 'the ash', '[[10,12]]', 2.5, 14);
INSERT INTO night_fields (night_id, version, step) VALUES (8, 2, 1);
INSERT INTO night_places (night_id, instrument_id, number, x, y, queue) VALUES (8, 11, 4, 20.5, 8, 90);
INSERT INTO field_steps (night_id, position, what, places) VALUES (8, 0, 'begin', '[]'),
    (8, 1, 'suggest places', '[{"instrument":11,"number":4,"x":20.5,"y":8,"queue":90,"pinned":false}]');
