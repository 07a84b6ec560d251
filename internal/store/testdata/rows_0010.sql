-- An own target that moves, and a satellite with its two-line elements (the
-- sample elements of Spacetrack Report No. 3).
INSERT INTO own_targets (name, kind, ra, dec, elements) VALUES ('Test comet', 'comet', 0, 0, 'elements as published');
INSERT INTO satellites (name, elements, added_at) VALUES ('Test satellite', 'two lines as published', '2026-11-24T12:00:00.000Z');
