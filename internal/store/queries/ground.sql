-- name: GetGround :one
SELECT * FROM site_grounds WHERE site_id = ?;

-- name: ListFeatures :many
SELECT * FROM ground_features WHERE site_id = ? ORDER BY position;

-- name: BeginGround :exec
-- A ground that nobody has described yet has version 0.
INSERT INTO site_grounds (site_id, version) VALUES (?, 0)
ON CONFLICT (site_id) DO NOTHING;

-- name: PutGround :execrows
-- Touches no row when the version is not the present one.
UPDATE site_grounds
SET version = version + 1, outline = @outline, before = @before
WHERE site_id = @site_id AND version = @version;

-- name: ClearFeatures :exec
DELETE FROM ground_features WHERE site_id = ?;

-- name: InsertFeature :exec
INSERT INTO ground_features (site_id, position, kind, name, points, radius, width, height, wheels)
VALUES (@site_id, @position, @kind, @name, @points, @radius, @width, @height, @wheels);

-- name: GetField :one
SELECT * FROM night_fields WHERE night_id = ?;

-- name: BeginField :exec
INSERT INTO night_fields (night_id) VALUES (?)
ON CONFLICT (night_id) DO NOTHING;

-- name: RaiseField :execrows
UPDATE night_fields
SET version = version + 1
WHERE night_id = @night_id AND version = @version;

-- name: SetFieldStep :exec
UPDATE night_fields SET step = @step WHERE night_id = @night_id;

-- name: ListPlaces :many
SELECT * FROM night_places WHERE night_id = ? ORDER BY number, instrument_id;

-- name: ClearPlaces :exec
DELETE FROM night_places WHERE night_id = ?;

-- name: InsertPlace :exec
INSERT INTO night_places (night_id, instrument_id, number, x, y, queue, pinned)
VALUES (@night_id, @instrument_id, @number, @x, @y, @queue, @pinned);

-- name: FieldStepRange :one
SELECT
    CAST(coalesce(min(position), 0) AS INTEGER) AS low_position,
    CAST(coalesce(max(position), 0) AS INTEGER) AS high_position
FROM field_steps
WHERE night_id = ?;

-- name: GetFieldStep :one
SELECT * FROM field_steps WHERE night_id = @night_id AND position = @position;

-- name: InsertFieldStep :exec
INSERT INTO field_steps (night_id, position, what, places)
VALUES (@night_id, @position, @what, @places);

-- name: DeleteFieldStepsAfter :exec
DELETE FROM field_steps WHERE night_id = @night_id AND position > @position;

-- name: DeleteFieldStepsBefore :exec
DELETE FROM field_steps WHERE night_id = @night_id AND position < @position;
