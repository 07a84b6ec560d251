UPDATE go_rules SET decide = 690, cloud_doubt = 30, version = 2 WHERE id = 1;
INSERT INTO decisions (night_id, at, who, verdict, words) VALUES (8, '2026-10-24T11:05:00.000Z', 'Ada', 'go', 'Clear until ten.');
INSERT INTO put_outs VALUES (8, 11, '2026-10-24T16:30:00.000Z', NULL, 1);
INSERT INTO packing VALUES (8, 'gear-12', 3, 1);
