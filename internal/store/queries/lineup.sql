-- name: ListShowings :many
SELECT * FROM showings WHERE night_id = ? ORDER BY from_at, instrument_id, id;

-- name: ClearShowings :exec
DELETE FROM showings WHERE night_id = ?;

-- name: InsertShowing :one
-- An id of NULL gets a new one.
INSERT INTO showings (
    id, night_id, instrument_id, target_id, eyepiece_id, amplifier_id, diagonal_id,
    filter_id, from_at, length_seconds, pinned, backup_id
)
VALUES (
    sqlc.narg(id), @night_id, @instrument_id, @target_id, @eyepiece_id, @amplifier_id, @diagonal_id,
    @filter_id, @from_at, @length_seconds, @pinned, @backup_id
)
RETURNING id;

-- name: ListForbidden :many
SELECT * FROM forbidden_pairs WHERE night_id = ? ORDER BY instrument_id, target_id;

-- name: ClearForbidden :exec
DELETE FROM forbidden_pairs WHERE night_id = ?;

-- name: InsertForbidden :exec
INSERT INTO forbidden_pairs (night_id, instrument_id, target_id)
VALUES (@night_id, @instrument_id, @target_id);

-- name: SetLineUpStep :exec
UPDATE nights SET line_up_step = @line_up_step WHERE id = @id;

-- name: StepRange :one
-- First and last position there is; equal to the present one when nothing can
-- be undone or redone.
SELECT
    CAST(coalesce(min(position), 0) AS INTEGER) AS low_position,
    CAST(coalesce(max(position), 0) AS INTEGER) AS high_position
FROM line_up_steps WHERE night_id = ?;

-- name: GetStep :one
SELECT l.what, l.line_up
FROM line_up_steps s JOIN night_log l ON l.id = s.log_id
WHERE s.night_id = @night_id AND s.position = @position;

-- name: InsertStep :exec
INSERT INTO line_up_steps (night_id, position, log_id) VALUES (@night_id, @position, @log_id);

-- name: DeleteStepsAfter :exec
DELETE FROM line_up_steps WHERE night_id = @night_id AND position > @position;

-- name: DeleteStepsBefore :exec
DELETE FROM line_up_steps WHERE night_id = @night_id AND position < @position;
