-- Why: the people of the club. They stand before the kit, because a piece of
-- gear may belong to one of them.
-- Existing rows: untouched.

-- +goose Up
CREATE TABLE volunteers (
    id               INTEGER PRIMARY KEY,
    version          INTEGER NOT NULL DEFAULT 1,
    name             TEXT    NOT NULL CHECK (name <> ''),
    email            TEXT    NOT NULL DEFAULT '',
    phone            TEXT    NOT NULL DEFAULT '',
    share            INTEGER NOT NULL DEFAULT 0 CHECK (share IN (0, 1)),
    minor            INTEGER NOT NULL DEFAULT 0 CHECK (minor IN (0, 1)),
    skills           TEXT    NOT NULL DEFAULT '[]' CHECK (json_valid(skills) AND json_type(skills) = 'array'), -- [{"instrument", "mount", "level"}, ...]
    roles            TEXT    NOT NULL DEFAULT '[]' CHECK (json_valid(roles) AND json_type(roles) = 'array'),
    no_lifting       INTEGER NOT NULL DEFAULT 0 CHECK (no_lifting IN (0, 1)),
    no_ladder        INTEGER NOT NULL DEFAULT 0 CHECK (no_ladder IN (0, 1)),
    must_sit         INTEGER NOT NULL DEFAULT 0 CHECK (must_sit IN (0, 1)),
    no_night_driving INTEGER NOT NULL DEFAULT 0 CHECK (no_night_driving IN (0, 1)),
    languages        TEXT    NOT NULL DEFAULT '[]' CHECK (json_valid(languages) AND json_type(languages) = 'array'),
    drive_minutes    INTEGER NOT NULL DEFAULT 0 CHECK (drive_minutes BETWEEN 0 AND 1440),
    notes            TEXT    NOT NULL DEFAULT '',
    retired          INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1))
) STRICT;
