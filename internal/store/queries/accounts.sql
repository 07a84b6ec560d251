-- name: ListAccounts :many
SELECT * FROM accounts ORDER BY name;

-- name: GetAccount :one
SELECT * FROM accounts WHERE id = ?;

-- name: GetAccountByName :one
SELECT * FROM accounts WHERE name = ?;

-- name: CountAccounts :one
SELECT count(*) FROM accounts;

-- name: CountActing :one
-- Coordinators who can sign in.
SELECT count(*) FROM accounts WHERE role = 'coordinator' AND disabled = 0 AND password <> '';

-- name: InsertAccount :one
INSERT INTO accounts (name, role, password, made_at)
VALUES (@name, @role, @password, @made_at)
RETURNING id;

-- name: UpdateAccount :execrows
-- Touches no row when the version is not the present one. A change of the role
-- or a closed account ends what is open.
UPDATE accounts SET
    version = version + 1,
    epoch = epoch + (role <> @role OR disabled <> @disabled),
    name = @name,
    role = @role,
    disabled = @disabled
WHERE id = @id AND version = @version;

-- name: SetPassword :execrows
-- A new password ends every session.
UPDATE accounts SET
    version = version + 1,
    epoch = epoch + 1,
    password = @password
WHERE id = @id;

-- name: RehashPassword :exec
-- The same password, hashed anew, provided that it is still the same.
UPDATE accounts SET password = @new WHERE id = @id AND password = @old;

-- name: RaiseEpoch :execrows
UPDATE accounts SET epoch = epoch + 1 WHERE id = ?;

-- name: SetSeen :exec
UPDATE accounts SET seen_at = @seen_at WHERE id = @id;

-- name: DeleteAccount :execrows
DELETE FROM accounts WHERE id = ?;

-- name: InsertAccountLink :exec
INSERT INTO account_links (hash, account_id, expires_at) VALUES (@hash, @account_id, @expires_at);

-- name: GetAccountLink :one
SELECT sqlc.embed(accounts), account_links.expires_at
FROM account_links
JOIN accounts ON accounts.id = account_links.account_id
WHERE account_links.hash = @hash;

-- name: DeleteAccountLinks :exec
DELETE FROM account_links WHERE account_id = ?;

-- name: DeleteOldAccountLinks :exec
DELETE FROM account_links WHERE expires_at < @now_at;

-- name: GetSession :one
SELECT data, expires_at FROM sessions WHERE hash = ?;

-- name: PutSession :exec
INSERT INTO sessions (hash, data, expires_at) VALUES (@hash, @data, @expires_at)
ON CONFLICT (hash) DO UPDATE SET data = excluded.data, expires_at = excluded.expires_at;

-- name: DeleteSession :exec
DELETE FROM sessions WHERE hash = ?;

-- name: DeleteOldSessions :exec
DELETE FROM sessions WHERE expires_at < @now_at;

-- name: GetSignInFault :one
SELECT count, last_at FROM sign_in_faults WHERE key = ?;

-- name: PutSignInFault :exec
INSERT INTO sign_in_faults (key, count, last_at) VALUES (@key, 1, @last_at)
ON CONFLICT (key) DO UPDATE SET count = count + 1, last_at = excluded.last_at;

-- name: DeleteSignInFault :exec
DELETE FROM sign_in_faults WHERE key = ?;

-- name: DeleteOldSignInFaults :exec
DELETE FROM sign_in_faults WHERE last_at < @before_at;
