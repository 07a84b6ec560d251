-- name: PutBin :exec
-- What lies there already keeps its date.
INSERT INTO bin (kind, ref, name, who, content) VALUES (@kind, @ref, @name, @who, @content)
ON CONFLICT (kind, ref) DO NOTHING;

-- name: TakeBin :execrows
DELETE FROM bin WHERE kind = @kind AND ref = @ref;

-- name: ListBin :many
-- What is deleted first stands first.
SELECT kind, ref, name, at, who FROM bin ORDER BY at, kind, ref;

-- name: GetBin :one
SELECT * FROM bin WHERE kind = @kind AND ref = @ref;

-- name: UnretireGear :execrows
UPDATE gear SET retired = 0, version = version + 1 WHERE id = ?;

-- name: UnretireSite :execrows
UPDATE sites SET retired = 0, version = version + 1 WHERE id = ?;

-- name: UnretireNight :execrows
UPDATE nights SET retired = 0, version = version + 1 WHERE id = ?;

-- name: UnretireVolunteer :execrows
UPDATE volunteers SET retired = 0, version = version + 1 WHERE id = ? AND forgotten = 0;

-- name: UnremoveTarget :execrows
UPDATE own_targets SET removed = 0, version = version + 1 WHERE id = ?;

-- name: DeleteGear :execrows
DELETE FROM gear WHERE id = ?;

-- name: DeleteSite :execrows
DELETE FROM sites WHERE id = ?;

-- name: DeleteNight :execrows
DELETE FROM nights WHERE id = ?;

-- name: DeleteTarget :execrows
DELETE FROM own_targets WHERE id = ?;

-- name: GetSatellite :one
SELECT * FROM satellites WHERE id = ?;

-- name: PutSatellite :exec
INSERT INTO satellites (id, name, elements, added_at) VALUES (@id, @name, @elements, @added_at);

-- name: PutKeptLineUp :exec
INSERT INTO kept_line_ups (id, night_id, name, who, at, line_up)
VALUES (@id, @night_id, @name, @who, @at, @line_up);

-- name: InsertClubLog :exec
INSERT INTO club_log (who, what) VALUES (@who, @what);

-- name: ListClubLog :many
-- Newest first.
SELECT * FROM club_log ORDER BY id DESC LIMIT @most;

-- name: InsertImport :one
INSERT INTO imports (who, what, done) VALUES (@who, @what, @done) RETURNING id;

-- name: GetImport :one
SELECT * FROM imports WHERE id = ?;

-- name: ListImports :many
-- Newest first.
SELECT id, at, who, what FROM imports ORDER BY id DESC;

-- name: DeleteImport :execrows
DELETE FROM imports WHERE id = ?;

-- name: DeleteImportsBefore :exec
DELETE FROM imports WHERE at < @at;
