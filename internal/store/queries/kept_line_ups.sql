-- name: InsertKeptLineUp :one
INSERT INTO kept_line_ups (night_id, name, who, line_up)
VALUES (@night_id, @name, @who, @line_up)
RETURNING id;

-- name: ListKeptLineUps :many
-- Newest first.
SELECT * FROM kept_line_ups WHERE night_id = ? ORDER BY id DESC;

-- name: GetKeptLineUp :one
SELECT * FROM kept_line_ups WHERE id = @id AND night_id = @night_id;

-- name: DeleteKeptLineUp :execrows
DELETE FROM kept_line_ups WHERE id = @id AND night_id = @night_id;
