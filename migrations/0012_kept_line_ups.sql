-- Why: a line-up can be given a name and kept beside the one in force, to be
-- compared with it and brought back. The steps of undo are forgotten one day;
-- what has a name stays until somebody forgets it.
-- Existing rows: no night has a kept line-up yet.

-- +goose Up
CREATE TABLE kept_line_ups (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    night_id INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    name     TEXT    NOT NULL CHECK (name <> ''),
    who      TEXT    NOT NULL DEFAULT '',
    at       TEXT    NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ', 'now')) CHECK (at LIKE '____-__-__T__:__:__.___Z'),
    line_up  TEXT    NOT NULL CHECK (json_valid(line_up)),
    UNIQUE (night_id, name)
) STRICT;
