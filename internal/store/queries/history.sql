-- name: InsertLog :one
INSERT INTO night_log (night_id, who, what, line_up, roster)
VALUES (@night_id, @who, @what, @line_up, @roster)
RETURNING id;

-- name: ListLog :many
-- Newest first, without the snapshots: a page of history needs only to know
-- that they are there.
SELECT
    id,
    at,
    who,
    what,
    CAST(line_up IS NOT NULL AS INTEGER) AS has_line_up,
    CAST(roster IS NOT NULL AS INTEGER) AS has_roster
FROM night_log
WHERE night_id = ?
ORDER BY id DESC;

-- name: GetLog :one
SELECT * FROM night_log WHERE id = @id AND night_id = @night_id;
