-- name: ListSteps :many
-- A night of 0 lists all that the club has.
SELECT sqlc.embed(gear), sqlc.embed(steps)
FROM steps JOIN gear ON gear.id = steps.id
WHERE gear.retired <= @with_retired
    AND (
        CAST(@night_id AS INTEGER) = 0
        OR gear.id IN (SELECT gear_id FROM night_gear WHERE night_gear.night_id = CAST(@night_id AS INTEGER))
    )
ORDER BY gear.name, gear.id;

-- name: GetSteps :one
SELECT sqlc.embed(gear), sqlc.embed(steps)
FROM steps JOIN gear ON gear.id = steps.id
WHERE gear.id = ?;

-- name: PutSteps :exec
INSERT INTO steps (
    id, kind, height
)
VALUES (
    @id, @kind, @height
)
ON CONFLICT (id) DO UPDATE SET
    kind = excluded.kind,
    height = excluded.height;
