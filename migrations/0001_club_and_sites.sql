-- Why: the club's settings and the places where nights are held; every other
-- table leans on them. The application id marks the file as ours, so that a
-- restore or a start on somebody else's database is refused.
-- Existing rows: none; this is the first file.

-- +goose Up
PRAGMA application_id = 1146442571; -- the letters DUSK

CREATE TABLE club (
    id           INTEGER PRIMARY KEY CHECK (id = 1), -- one row for ever
    version      INTEGER NOT NULL DEFAULT 1,
    name         TEXT    NOT NULL DEFAULT '',
    paper        TEXT    NOT NULL DEFAULT 'a4' CHECK (paper IN ('a4', 'letter')),
    inches       INTEGER NOT NULL DEFAULT 0 CHECK (inches IN (0, 1)),
    min_altitude REAL    NOT NULL DEFAULT 20 CHECK (min_altitude BETWEEN 0 AND 89), -- degrees
    ladders      INTEGER NOT NULL DEFAULT 0 CHECK (ladders IN (0, 1)),
    contact      TEXT    NOT NULL DEFAULT ''
) STRICT;

INSERT INTO club (id) VALUES (1);

CREATE TABLE sites (
    id         INTEGER PRIMARY KEY,
    version    INTEGER NOT NULL DEFAULT 1,
    name       TEXT    NOT NULL CHECK (name <> ''),
    lat        REAL    NOT NULL CHECK (lat BETWEEN -90 AND 90),    -- degrees, north positive
    lon        REAL    NOT NULL CHECK (lon BETWEEN -180 AND 180),  -- degrees, east positive
    elev       REAL    NOT NULL CHECK (elev BETWEEN -500 AND 9000), -- m
    zone       TEXT    NOT NULL CHECK (zone <> ''),                -- IANA name
    horizon    TEXT    NOT NULL DEFAULT '[]' CHECK (json_valid(horizon) AND json_type(horizon) = 'array'), -- [[azimuth, altitude], ...], degrees
    brightness REAL    NOT NULL CHECK (brightness BETWEEN 10 AND 23), -- mag per square arcsecond
    ground     TEXT    NOT NULL DEFAULT '',
    power      INTEGER NOT NULL DEFAULT 0 CHECK (power IN (0, 1)),
    ladders    INTEGER NOT NULL DEFAULT 0 CHECK (ladders IN (0, 1)),
    notes      TEXT    NOT NULL DEFAULT '',
    retired    INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1))
) STRICT;
