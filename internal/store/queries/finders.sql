-- name: ListFinders :many
-- A night of 0 lists all that the club has.
SELECT sqlc.embed(gear), sqlc.embed(finders)
FROM finders JOIN gear ON gear.id = finders.id
WHERE gear.retired <= @with_retired
    AND (
        CAST(@night_id AS INTEGER) = 0
        OR gear.id IN (SELECT gear_id FROM night_gear WHERE night_gear.night_id = CAST(@night_id AS INTEGER))
    )
ORDER BY gear.name, gear.id;

-- name: GetFinder :one
SELECT sqlc.embed(gear), sqlc.embed(finders)
FROM finders JOIN gear ON gear.id = finders.id
WHERE gear.id = ?;

-- name: PutFinder :exec
INSERT INTO finders (
    id, kind, aperture, power, field, for_id
)
VALUES (
    @id, @kind, @aperture, @power, @field, @for_id
)
ON CONFLICT (id) DO UPDATE SET
    kind = excluded.kind,
    aperture = excluded.aperture,
    power = excluded.power,
    field = excluded.field,
    for_id = excluded.for_id;
