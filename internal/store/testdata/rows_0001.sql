UPDATE club SET name = 'Ash Field Skywatchers', paper = 'letter', min_altitude = 25;
INSERT INTO sites (id, name, lat, lon, elev, zone, horizon, brightness) VALUES (5, 'Ash Field', 50.1, -9.25, 190, 'Europe/Berlin', '[[0,6.5],[180,0]]', 20.6);
