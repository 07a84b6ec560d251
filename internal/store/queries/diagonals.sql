-- name: ListDiagonals :many
-- A night of 0 lists all that the club has.
SELECT sqlc.embed(gear), sqlc.embed(diagonals)
FROM diagonals JOIN gear ON gear.id = diagonals.id
WHERE gear.retired <= @with_retired
    AND (
        CAST(@night_id AS INTEGER) = 0
        OR gear.id IN (SELECT gear_id FROM night_gear WHERE night_gear.night_id = CAST(@night_id AS INTEGER))
    )
ORDER BY gear.name, gear.id;

-- name: GetDiagonal :one
SELECT sqlc.embed(gear), sqlc.embed(diagonals)
FROM diagonals JOIN gear ON gear.id = diagonals.id
WHERE gear.id = ?;

-- name: PutDiagonal :exec
INSERT INTO diagonals (
    id, kind, barrel, for_id, max_stop, path_used
)
VALUES (
    @id, @kind, @barrel, @for_id, @max_stop, @path_used
)
ON CONFLICT (id) DO UPDATE SET
    kind = excluded.kind,
    barrel = excluded.barrel,
    for_id = excluded.for_id,
    max_stop = excluded.max_stop,
    path_used = excluded.path_used;
