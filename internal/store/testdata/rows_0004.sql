INSERT INTO nights (id, name, date, site_id, public_from_at, public_seconds, block_seconds, guests, audience, seeing, line_up_version)
VALUES (8, 'Half Moon', '2026-10-24', 5, '2026-10-24T18:30:00.000Z', 10800, 900, 80, 'families', 2.5, 4);
INSERT INTO night_gear VALUES (8, 'instrument', 11), (8, 'eyepiece', 12);
INSERT INTO night_volunteers VALUES (8, 3, 'yes', NULL, NULL, 20, '');
INSERT INTO night_targets VALUES (8, 'moon', 0, 1), (8, 'm13', 1, 0);
INSERT INTO showings (id, night_id, instrument_id, target_id, eyepiece_id, from_at, length_seconds, pinned) VALUES (21, 8, 11, 'moon', 12, '2026-10-24T18:30:00.000Z', 1800, 1);
INSERT INTO forbidden_pairs VALUES (8, 11, 'm13');
INSERT INTO duties (id, night_id, volunteer_id, role, instrument_id, from_at, length_seconds) VALUES (31, 8, 3, 'operator', 11, '2026-10-24T18:30:00.000Z', 3600);
