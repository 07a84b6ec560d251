-- Why: somebody can sign in with a passkey that their phone or security key
-- holds, beside the password. Only the public half is here.
-- Existing rows: nothing changes; nobody has a passkey yet.

-- +goose Up
CREATE TABLE passkeys (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    account_id INTEGER NOT NULL REFERENCES accounts (id) ON DELETE CASCADE,
    name       TEXT    NOT NULL CHECK (length(name) BETWEEN 1 AND 80), -- what its owner calls it
    party      TEXT    NOT NULL CHECK (length(party) BETWEEN 1 AND 253), -- host for which it was made
    handle     BLOB    NOT NULL CHECK (length(handle) BETWEEN 16 AND 64), -- random name of the account, the same for all its keys
    credential BLOB    NOT NULL UNIQUE CHECK (length(credential) BETWEEN 1 AND 1023),
    record     BLOB    NOT NULL, -- public key, counter and flags, as JSON
    made_at    TEXT    NOT NULL CHECK (made_at LIKE '____-__-__T__:__:__.___Z'),
    used_at    TEXT    CHECK (used_at LIKE '____-__-__T__:__:__.___Z') -- NULL: never
) STRICT;

CREATE INDEX passkeys_by_account ON passkeys (account_id);
