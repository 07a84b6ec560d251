-- name: ListDewGear :many
-- A night of 0 lists all that the club has.
SELECT sqlc.embed(gear), sqlc.embed(dew_gear)
FROM dew_gear JOIN gear ON gear.id = dew_gear.id
WHERE gear.retired <= @with_retired
    AND (
        CAST(@night_id AS INTEGER) = 0
        OR gear.id IN (SELECT gear_id FROM night_gear WHERE night_gear.night_id = CAST(@night_id AS INTEGER))
    )
ORDER BY gear.name, gear.id;

-- name: GetDewGear :one
SELECT sqlc.embed(gear), sqlc.embed(dew_gear)
FROM dew_gear JOIN gear ON gear.id = dew_gear.id
WHERE gear.id = ?;

-- name: PutDewGear :exec
INSERT INTO dew_gear (
    id, kind, min_diameter, max_diameter, length, power, for_id
)
VALUES (
    @id, @kind, @min_diameter, @max_diameter, @length, @power, @for_id
)
ON CONFLICT (id) DO UPDATE SET
    kind = excluded.kind,
    min_diameter = excluded.min_diameter,
    max_diameter = excluded.max_diameter,
    length = excluded.length,
    power = excluded.power,
    for_id = excluded.for_id;
