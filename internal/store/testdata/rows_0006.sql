INSERT INTO weather (night_id, source) VALUES (8, 'typed in');
INSERT INTO weather_hours VALUES (8, '2026-10-24T19:00:00.000Z', 9, 4.5, 73, NULL, 0, 0, 0, 2, NULL, NULL, NULL, NULL, 0);
