-- name: GetClub :one
SELECT * FROM club WHERE id = 1;

-- name: UpdateClub :execrows
UPDATE club
SET
    version = version + 1,
    name = @name,
    paper = @paper,
    inches = @inches,
    min_altitude = @min_altitude,
    ladders = @ladders,
    contact = @contact,
    spot_longitude = @spot_longitude
WHERE id = 1 AND version = @version;
