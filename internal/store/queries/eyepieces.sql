-- name: ListEyepieces :many
-- A night of 0 lists all that the club has.
SELECT sqlc.embed(gear), sqlc.embed(eyepieces)
FROM eyepieces JOIN gear ON gear.id = eyepieces.id
WHERE gear.retired <= @with_retired
    AND (
        CAST(@night_id AS INTEGER) = 0
        OR gear.id IN (SELECT gear_id FROM night_gear WHERE night_gear.night_id = CAST(@night_id AS INTEGER))
    )
ORDER BY gear.name, gear.id;

-- name: GetEyepiece :one
SELECT sqlc.embed(gear), sqlc.embed(eyepieces)
FROM eyepieces JOIN gear ON gear.id = eyepieces.id
WHERE gear.id = ?;

-- name: PutEyepiece :exec
INSERT INTO eyepieces (
    id, focal_length, apparent_field, field_stop, barrel, eye_relief, class, weight
)
VALUES (
    @id, @focal_length, @apparent_field, @field_stop, @barrel, @eye_relief, @class, @weight
)
ON CONFLICT (id) DO UPDATE SET
    focal_length = excluded.focal_length,
    apparent_field = excluded.apparent_field,
    field_stop = excluded.field_stop,
    barrel = excluded.barrel,
    eye_relief = excluded.eye_relief,
    class = excluded.class,
    weight = excluded.weight;
