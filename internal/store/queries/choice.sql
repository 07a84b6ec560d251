-- name: ClearNightGear :exec
DELETE FROM night_gear WHERE night_id = ?;

-- name: InsertNightGear :exec
INSERT INTO night_gear (night_id, kind, gear_id) VALUES (@night_id, @kind, @gear_id);

-- name: ListNightTargets :many
SELECT target_id, must FROM night_targets WHERE night_id = ? ORDER BY position;

-- name: ClearNightTargets :exec
DELETE FROM night_targets WHERE night_id = ?;

-- name: InsertNightTarget :exec
INSERT INTO night_targets (night_id, target_id, position, must)
VALUES (@night_id, @target_id, @position, @must);

-- name: ListAvailability :many
SELECT n.* FROM night_volunteers n
JOIN volunteers v ON v.id = n.volunteer_id
WHERE n.night_id = ?
ORDER BY v.name, v.id;

-- name: ClearAvailability :exec
DELETE FROM night_volunteers WHERE night_id = ?;

-- name: InsertAvailability :exec
INSERT INTO night_volunteers (night_id, volunteer_id, answer, from_at, to_at, drive_minutes, wishes)
VALUES (@night_id, @volunteer_id, @answer, @from_at, @to_at, @drive_minutes, @wishes);
