-- name: ListSites :many
SELECT * FROM sites ORDER BY name, id;

-- name: GetSite :one
SELECT * FROM sites WHERE id = ?;

-- name: RaiseSite :execrows
-- Touches no row when the version is not the present one.
UPDATE sites SET version = version + 1
WHERE id = @id AND version = @version;

-- name: PutSite :one
-- An id of NULL makes a new row under an id that none ever had. RaiseSite must have agreed to a change.
INSERT INTO sites (
    id, name, lat, lon, elev, zone, horizon, brightness, ground, power, ladders, notes,
    retired
)
VALUES (
    coalesce(
        CAST(sqlc.narg(id) AS INTEGER),
        1 + max((SELECT l.id FROM last_ids l WHERE l.kind = 'site'), (SELECT coalesce(max(x.id), 0) FROM sites x))
    ),
    @name, @lat, @lon, @elev, @zone, @horizon, @brightness, @ground, @power,
    @ladders, @notes, @retired
)
ON CONFLICT (id) DO UPDATE SET
    name = excluded.name,
    lat = excluded.lat,
    lon = excluded.lon,
    elev = excluded.elev,
    zone = excluded.zone,
    horizon = excluded.horizon,
    brightness = excluded.brightness,
    ground = excluded.ground,
    power = excluded.power,
    ladders = excluded.ladders,
    notes = excluded.notes,
    retired = excluded.retired
RETURNING id;
