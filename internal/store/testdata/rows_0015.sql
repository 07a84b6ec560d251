UPDATE keeping SET version = 2, answers_months = 6 WHERE id = 1;
INSERT INTO satellites (id, name, elements, added_at) VALUES (9, 'Bright one', 'x', '2026-10-01T08:00:00.000Z');
INSERT INTO bin (kind, ref, name, at, who, content) VALUES ('satellite', 8, 'Gone one', '2026-10-01T08:00:00.000Z', 'Ada', '{"at":"2026-09-01T08:00:00.000Z","elements":"x"}');
INSERT INTO imports (id, at, who, what, done) VALUES (2, '2026-10-01T08:00:00.000Z', 'Ada', 'kit from a table', '[{"table":"gear","id":12,"version":1,"detail":"eyepieces"}]');
INSERT INTO club_log (id, at, who, what) VALUES (3, '2026-10-01T08:00:00.000Z', 'Ada', 'import kit: 1 added');
INSERT INTO consents (id, volunteer_id, at, who, agreed) VALUES (4, 3, '2026-10-01T08:00:00.000Z', 'Ada', 1);
