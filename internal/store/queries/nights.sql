-- name: ListNights :many
SELECT * FROM nights ORDER BY date, public_from_at, id;

-- name: GetNight :one
SELECT * FROM nights WHERE id = ?;

-- name: RaiseNight :execrows
-- Touches no row when the version is not the present one.
UPDATE nights SET version = version + 1
WHERE id = @id AND version = @version;

-- name: PutNight :one
-- An id of NULL makes a new row under an id that none ever had. RaiseNight must have agreed to a change.
INSERT INTO nights (
    id, name, date, site_id, public_from_at, public_seconds, block_seconds, guests,
    audience, seeing, notes, retired
)
VALUES (
    coalesce(
        CAST(sqlc.narg(id) AS INTEGER),
        1 + max((SELECT l.id FROM last_ids l WHERE l.kind = 'night'), (SELECT coalesce(max(x.id), 0) FROM nights x))
    ),
    @name, @date, @site_id, @public_from_at, @public_seconds, @block_seconds,
    @guests, @audience, @seeing, @notes, @retired
)
ON CONFLICT (id) DO UPDATE SET
    name = excluded.name,
    date = excluded.date,
    site_id = excluded.site_id,
    public_from_at = excluded.public_from_at,
    public_seconds = excluded.public_seconds,
    block_seconds = excluded.block_seconds,
    guests = excluded.guests,
    audience = excluded.audience,
    seeing = excluded.seeing,
    notes = excluded.notes,
    retired = excluded.retired
RETURNING id;

-- name: RaiseLineUp :execrows
UPDATE nights
SET line_up_version = line_up_version + 1
WHERE id = @id AND line_up_version = @line_up_version;

-- name: RaiseRoster :execrows
UPDATE nights
SET roster_version = roster_version + 1
WHERE id = @id AND roster_version = @roster_version;
