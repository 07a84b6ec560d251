UPDATE crew_rules SET work_minutes = 120, per_guide = 0, version = 3 WHERE id = 1;
INSERT INTO crew_links VALUES ('9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08', 3, '2026-10-01T08:00:00.000Z', NULL);
INSERT INTO night_lifts VALUES (8, 3, 2, 0, 'the station', 'greeter');
