-- name: ListAmplifiers :many
-- A night of 0 lists all that the club has.
SELECT sqlc.embed(gear), sqlc.embed(amplifiers)
FROM amplifiers JOIN gear ON gear.id = amplifiers.id
WHERE gear.retired <= @with_retired
    AND (
        CAST(@night_id AS INTEGER) = 0
        OR gear.id IN (SELECT gear_id FROM night_gear WHERE night_gear.night_id = CAST(@night_id AS INTEGER))
    )
ORDER BY gear.name, gear.id;

-- name: GetAmplifier :one
SELECT sqlc.embed(gear), sqlc.embed(amplifiers)
FROM amplifiers JOIN gear ON gear.id = amplifiers.id
WHERE gear.id = ?;

-- name: PutAmplifier :exec
INSERT INTO amplifiers (
    id, kind, factor, barrel, only_for, back_focus
)
VALUES (
    @id, @kind, @factor, @barrel, @only_for, @back_focus
)
ON CONFLICT (id) DO UPDATE SET
    kind = excluded.kind,
    factor = excluded.factor,
    barrel = excluded.barrel,
    only_for = excluded.only_for,
    back_focus = excluded.back_focus;
