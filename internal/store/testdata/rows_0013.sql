-- The club noted where the red spot was.
UPDATE club SET spot_longitude = 60;
