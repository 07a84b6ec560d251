-- name: ListFilters :many
-- A night of 0 lists all that the club has.
SELECT sqlc.embed(gear), sqlc.embed(filters)
FROM filters JOIN gear ON gear.id = filters.id
WHERE gear.retired <= @with_retired
    AND (
        CAST(@night_id AS INTEGER) = 0
        OR gear.id IN (SELECT gear_id FROM night_gear WHERE night_gear.night_id = CAST(@night_id AS INTEGER))
    )
ORDER BY gear.name, gear.id;

-- name: GetFilter :one
SELECT sqlc.embed(gear), sqlc.embed(filters)
FROM filters JOIN gear ON gear.id = filters.id
WHERE gear.id = ?;

-- name: PutFilter :exec
INSERT INTO filters (
    id, kind, barrel, transmission
)
VALUES (
    @id, @kind, @barrel, @transmission
)
ON CONFLICT (id) DO UPDATE SET
    kind = excluded.kind,
    barrel = excluded.barrel,
    transmission = excluded.transmission;
