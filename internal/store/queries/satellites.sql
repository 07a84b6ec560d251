-- name: ListSatellites :many
SELECT * FROM satellites ORDER BY name, id;

-- name: AddSatellite :one
INSERT INTO satellites (name, elements, added_at) VALUES (@name, @elements, @added_at) RETURNING id;

-- name: RemoveSatellite :execrows
DELETE FROM satellites WHERE id = ?;
