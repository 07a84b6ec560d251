-- name: ListDuties :many
SELECT * FROM duties WHERE night_id = ? ORDER BY from_at, volunteer_id, id;

-- name: ClearDuties :exec
DELETE FROM duties WHERE night_id = ?;

-- name: InsertDuty :one
-- An id of NULL gets a new one.
INSERT INTO duties (id, night_id, volunteer_id, role, instrument_id, from_at, length_seconds, pinned)
VALUES (sqlc.narg(id), @night_id, @volunteer_id, @role, @instrument_id, @from_at, @length_seconds, @pinned)
RETURNING id;
