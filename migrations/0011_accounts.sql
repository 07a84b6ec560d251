-- Why: a club is entered by people with accounts: who they are and what they
-- may do, their sessions, the one-time links that set a password, and a count
-- of refused sign-ins that slows guessing down.
-- Existing rows: nothing changes; there is no account until the first one is
-- made through the setup link.

-- +goose Up
CREATE TABLE accounts (
    id        INTEGER PRIMARY KEY AUTOINCREMENT, -- never used twice: an old session must not become another's
    version   INTEGER NOT NULL DEFAULT 1,
    name      TEXT    NOT NULL UNIQUE COLLATE NOCASE CHECK (length(name) BETWEEN 1 AND 80),
    role      TEXT    NOT NULL CHECK (role IN ('coordinator', 'crew', 'viewer')),
    password  TEXT    NOT NULL DEFAULT '' CHECK (password = '' OR password LIKE '$argon2id$%'), -- '': none yet
    epoch     INTEGER NOT NULL DEFAULT 1, -- sessions begun under another epoch are over
    disabled  INTEGER NOT NULL DEFAULT 0 CHECK (disabled IN (0, 1)),
    made_at   TEXT    NOT NULL CHECK (made_at LIKE '____-__-__T__:__:__.___Z'),
    seen_at   TEXT    CHECK (seen_at LIKE '____-__-__T__:__:__.___Z') -- last sign-in; NULL: never
) STRICT;

-- The token itself is nowhere: whoever reads the database cannot enter with it.
CREATE TABLE sessions (
    hash       TEXT PRIMARY KEY CHECK (length(hash) = 64), -- SHA-256 of the token, hexadecimal
    data       BLOB NOT NULL,
    expires_at TEXT NOT NULL CHECK (expires_at LIKE '____-__-__T__:__:__.___Z')
) STRICT, WITHOUT ROWID;

CREATE INDEX sessions_by_end ON sessions (expires_at);

CREATE TABLE account_links (
    hash       TEXT    PRIMARY KEY CHECK (length(hash) = 64),
    account_id INTEGER NOT NULL REFERENCES accounts (id) ON DELETE CASCADE,
    expires_at TEXT    NOT NULL CHECK (expires_at LIKE '____-__-__T__:__:__.___Z')
) STRICT, WITHOUT ROWID;

CREATE INDEX account_links_by_account ON account_links (account_id);

-- The key is a hash of an account's name or of an address, not either itself.
CREATE TABLE sign_in_faults (
    key     TEXT    PRIMARY KEY CHECK (length(key) = 64),
    count   INTEGER NOT NULL CHECK (count > 0),
    last_at TEXT    NOT NULL CHECK (last_at LIKE '____-__-__T__:__:__.___Z')
) STRICT, WITHOUT ROWID;
