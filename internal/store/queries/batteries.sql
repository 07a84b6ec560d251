-- name: ListBatteries :many
-- A night of 0 lists all that the club has.
SELECT sqlc.embed(gear), sqlc.embed(batteries)
FROM batteries JOIN gear ON gear.id = batteries.id
WHERE gear.retired <= @with_retired
    AND (
        CAST(@night_id AS INTEGER) = 0
        OR gear.id IN (SELECT gear_id FROM night_gear WHERE night_gear.night_id = CAST(@night_id AS INTEGER))
    )
ORDER BY gear.name, gear.id;

-- name: GetBattery :one
SELECT sqlc.embed(gear), sqlc.embed(batteries)
FROM batteries JOIN gear ON gear.id = batteries.id
WHERE gear.id = ?;

-- name: PutBattery :exec
INSERT INTO batteries (
    id, kind, capacity, voltage, aged, for_id
)
VALUES (
    @id, @kind, @capacity, @voltage, @aged, @for_id
)
ON CONFLICT (id) DO UPDATE SET
    kind = excluded.kind,
    capacity = excluded.capacity,
    voltage = excluded.voltage,
    aged = excluded.aged,
    for_id = excluded.for_id;
