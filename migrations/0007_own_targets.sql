-- Why: targets that the club adds itself, beside the catalogue that the
-- program carries. A night names them "own-" and their id. A removed one
-- stays as a row, because old nights still name it.
-- Existing rows: untouched.

-- +goose Up
CREATE TABLE own_targets (
    id             INTEGER PRIMARY KEY AUTOINCREMENT, -- never reused: old nights name it
    version        INTEGER NOT NULL DEFAULT 1,
    name           TEXT    NOT NULL CHECK (name <> ''),
    designations   TEXT    NOT NULL DEFAULT '[]' CHECK (json_valid(designations) AND json_type(designations) = 'array'),
    kind           TEXT    NOT NULL CHECK (kind <> ''),
    constellation  TEXT    NOT NULL DEFAULT '',
    ra             REAL    NOT NULL CHECK (ra >= 0 AND ra < 360),       -- degrees, J2000.0
    dec            REAL    NOT NULL CHECK (dec BETWEEN -90 AND 90),     -- degrees, J2000.0
    pm_ra          REAL    NOT NULL DEFAULT 0,                          -- mas a year, times cos dec
    pm_dec         REAL    NOT NULL DEFAULT 0,                          -- mas a year
    magnitude      REAL    CHECK (magnitude BETWEEN -30 AND 30),        -- NULL: unknown
    bv             REAL    CHECK (bv BETWEEN -10 AND 10),               -- colour index; NULL: unknown
    major_axis     REAL    NOT NULL DEFAULT 0 CHECK (major_axis >= 0),  -- arcminutes
    minor_axis     REAL    NOT NULL DEFAULT 0 CHECK (minor_axis >= 0),  -- arcminutes
    position_angle REAL    CHECK (position_angle BETWEEN -360 AND 360), -- degrees; NULL: unknown
    brightness     REAL    CHECK (brightness BETWEEN -10 AND 40),       -- mag per square arcsecond; NULL: unknown
    distance       TEXT    NOT NULL DEFAULT '',
    light_years    REAL    NOT NULL DEFAULT 0 CHECK (light_years >= 0),
    distance_error REAL    NOT NULL DEFAULT 0 CHECK (distance_error >= 0), -- per cent
    double         TEXT    CHECK (json_valid(double) AND json_type(double) = 'object'), -- NULL: not a double star
    variable       TEXT    CHECK (json_valid(variable) AND json_type(variable) = 'object'), -- NULL: not a variable star
    reach          TEXT    NOT NULL DEFAULT '',
    delight        REAL    NOT NULL DEFAULT 0 CHECK (delight BETWEEN 0 AND 1),
    showpiece      INTEGER NOT NULL DEFAULT 0 CHECK (showpiece IN (0, 1)),
    words          TEXT    NOT NULL DEFAULT '{}' CHECK (json_valid(words) AND json_type(words) = 'object'),
    source         TEXT    NOT NULL DEFAULT '',
    removed        INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1))
) STRICT;
