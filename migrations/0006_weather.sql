-- Why: the hourly weather of a night with its source, its credit and its age,
-- so that every number made from it can say where it comes from.
-- Existing rows: untouched; a night without a row here has no weather yet.

-- +goose Up
CREATE TABLE weather (
    night_id    INTEGER PRIMARY KEY REFERENCES nights (id) ON DELETE CASCADE,
    source      TEXT    NOT NULL,
    attribution TEXT    NOT NULL DEFAULT '',
    issued_at   TEXT    CHECK (issued_at LIKE '____-__-__T__:__:__.___Z'), -- NULL: not known
    notes       TEXT    NOT NULL DEFAULT '[]' CHECK (json_valid(notes) AND json_type(notes) = 'array')
) STRICT;

-- A value that nobody gave is NULL, not 0.
CREATE TABLE weather_hours (
    night_id    INTEGER NOT NULL REFERENCES weather (night_id) ON DELETE CASCADE,
    at          TEXT    NOT NULL CHECK (at LIKE '____-__-__T__:__:__.___Z'),
    temp        REAL    NOT NULL CHECK (temp BETWEEN -100 AND 70),      -- degrees C
    dew_point   REAL    NOT NULL CHECK (dew_point BETWEEN -150 AND 70), -- degrees C
    rh          REAL    NOT NULL CHECK (rh BETWEEN 0 AND 110),          -- per cent
    cloud       REAL    CHECK (cloud BETWEEN 0 AND 100),                -- per cent
    cloud_low   REAL    NOT NULL CHECK (cloud_low BETWEEN 0 AND 100),
    cloud_mid   REAL    NOT NULL CHECK (cloud_mid BETWEEN 0 AND 100),
    cloud_high  REAL    NOT NULL CHECK (cloud_high BETWEEN 0 AND 100),
    wind        REAL    CHECK (wind >= 0),                              -- m/s at 10 m
    gust        REAL    CHECK (gust >= 0),                              -- m/s at 10 m
    precip      REAL    CHECK (precip >= 0),                            -- mm in the hour before
    precip_prob REAL    CHECK (precip_prob BETWEEN 0 AND 100),          -- per cent
    thunder     INTEGER CHECK (thunder IN (0, 1)),
    estimated   INTEGER NOT NULL DEFAULT 0 CHECK (estimated IN (0, 1)),
    PRIMARY KEY (night_id, at)
) STRICT, WITHOUT ROWID;
