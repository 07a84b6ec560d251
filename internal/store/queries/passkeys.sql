-- name: ListPasskeys :many
SELECT * FROM passkeys WHERE account_id = ? ORDER BY name, id;

-- name: GetPasskey :one
SELECT * FROM passkeys WHERE credential = ?;

-- name: InsertPasskey :one
INSERT INTO passkeys (account_id, name, party, handle, credential, record, made_at)
VALUES (@account_id, @name, @party, @handle, @credential, @record, @made_at)
RETURNING id;

-- name: UsePasskey :execrows
-- Touches no row when it was used or removed meanwhile: a counter never goes
-- back.
UPDATE passkeys SET record = @record, used_at = @used_at WHERE id = @id AND record = @before;

-- name: DeletePasskey :execrows
DELETE FROM passkeys WHERE id = @id AND account_id = @account_id;

-- name: DeletePasskeys :execrows
DELETE FROM passkeys WHERE account_id = ?;
