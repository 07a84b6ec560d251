-- Why: the club's gear. What every piece has (name, owner, version) stands in
-- one table, gear, so that a night can choose any piece with one real foreign
-- key; what only one kind has stands in that kind's table under the same id.
-- Existing rows: untouched.

-- +goose Up
CREATE TABLE gear (
    id       INTEGER PRIMARY KEY,
    kind     TEXT    NOT NULL CHECK (kind IN ('instrument', 'eyepiece', 'amplifier', 'diagonal', 'filter', 'finder', 'dew-gear', 'battery', 'steps')),
    version  INTEGER NOT NULL DEFAULT 1,
    name     TEXT    NOT NULL CHECK (name <> ''),
    owner_id INTEGER REFERENCES volunteers (id) ON DELETE SET NULL, -- NULL: the club's own
    count    INTEGER NOT NULL DEFAULT 1 CHECK (count >= 1),
    notes    TEXT    NOT NULL DEFAULT '',
    retired  INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1)),
    assumed  TEXT    NOT NULL DEFAULT '[]' CHECK (json_valid(assumed) AND json_type(assumed) = 'array'),
    UNIQUE (id, kind) -- lets a foreign key ask for the kind as well
) STRICT;

CREATE INDEX gear_by_kind ON gear (kind, retired);
CREATE INDEX gear_by_owner ON gear (owner_id);

CREATE TABLE instruments (
    id                INTEGER PRIMARY KEY REFERENCES gear (id) ON DELETE CASCADE,
    design            TEXT    NOT NULL CHECK (design <> ''),
    aperture          REAL    NOT NULL CHECK (aperture > 0 AND aperture < 10000), -- mm
    focal_length      REAL    NOT NULL CHECK (focal_length >= 0),                 -- mm
    power             REAL    NOT NULL CHECK (power >= 0),
    fixed_field       REAL    NOT NULL CHECK (fixed_field BETWEEN 0 AND 180),     -- degrees
    obstruction       REAL    NOT NULL CHECK (obstruction >= 0 AND obstruction < 1),
    thickness         REAL    NOT NULL CHECK (thickness >= 0),                    -- mm
    glass             TEXT    NOT NULL,
    closed_tube       INTEGER NOT NULL CHECK (closed_tube IN (0, 1)),
    fan               INTEGER NOT NULL CHECK (fan IN (0, 1)),
    focuser           TEXT    NOT NULL,
    max_field_stop    REAL    NOT NULL CHECK (max_field_stop >= 0),               -- mm
    back_focus        REAL    NOT NULL CHECK (back_focus >= 0),                   -- mm
    mount             TEXT    NOT NULL CHECK (mount <> ''),
    tracking          INTEGER NOT NULL CHECK (tracking IN (0, 1)),
    go_to             INTEGER NOT NULL CHECK (go_to IN (0, 1)),
    meridian_overrun  REAL    NOT NULL,                                           -- minutes
    min_altitude      REAL    NOT NULL CHECK (min_altitude BETWEEN -90 AND 90),   -- degrees
    max_altitude      REAL    NOT NULL CHECK (max_altitude BETWEEN -90 AND 90),   -- degrees
    eyepiece_place    TEXT    NOT NULL,
    pivot_height      REAL    NOT NULL,                                           -- m
    pivot_to_eye      REAL    NOT NULL,                                           -- m
    eye_offset        REAL    NOT NULL,                                           -- m
    setup_minutes     REAL    NOT NULL CHECK (setup_minutes >= 0),
    needs_collimation INTEGER NOT NULL CHECK (needs_collimation IN (0, 1)),
    weight            REAL    NOT NULL CHECK (weight >= 0),                       -- kg
    dew_shield        REAL    NOT NULL CHECK (dew_shield >= 0),
    heater            REAL    NOT NULL CHECK (heater >= 0),                       -- W
    mount_power       REAL    NOT NULL CHECK (mount_power >= 0),                  -- W
    solar_full        INTEGER NOT NULL CHECK (solar_full IN (0, 1)),
    solar_certified   INTEGER NOT NULL CHECK (solar_certified IN (0, 1)),
    solar_fitted      INTEGER NOT NULL CHECK (solar_fitted IN (0, 1)),
    solar_inspected_at TEXT   CHECK (solar_inspected_at LIKE '____-__-__T__:__:__.___Z'), -- NULL: never
    storage           TEXT    NOT NULL,
    time_constant     REAL    NOT NULL CHECK (time_constant >= 0),                -- hours
    time_constant_fan INTEGER NOT NULL CHECK (time_constant_fan IN (0, 1)),
    stand             TEXT    NOT NULL,
    tube_length       REAL    NOT NULL CHECK (tube_length >= 0),                  -- m
    image_mirrored    INTEGER CHECK (image_mirrored IN (0, 1))                    -- NULL: derived
) STRICT;

CREATE TABLE eyepieces (
    id             INTEGER PRIMARY KEY REFERENCES gear (id) ON DELETE CASCADE,
    focal_length   REAL    NOT NULL CHECK (focal_length > 0 AND focal_length < 500), -- mm
    apparent_field REAL    NOT NULL CHECK (apparent_field > 0 AND apparent_field < 180), -- degrees
    field_stop     REAL    NOT NULL CHECK (field_stop >= 0),                          -- mm, 0: unknown
    barrel         TEXT    NOT NULL,
    eye_relief     REAL    NOT NULL CHECK (eye_relief >= 0),                          -- mm
    class          TEXT    NOT NULL,
    weight         REAL    NOT NULL CHECK (weight >= 0)                               -- g
) STRICT;

CREATE TABLE amplifiers (
    id         INTEGER PRIMARY KEY REFERENCES gear (id) ON DELETE CASCADE,
    kind       TEXT    NOT NULL CHECK (kind <> ''),
    factor     REAL    NOT NULL CHECK (factor > 0 AND factor < 20),
    barrel     TEXT    NOT NULL,
    only_for   TEXT    NOT NULL DEFAULT '[]' CHECK (json_valid(only_for) AND json_type(only_for) = 'array'),
    back_focus REAL    NOT NULL CHECK (back_focus >= 0) -- mm
) STRICT;

CREATE TABLE diagonals (
    id        INTEGER PRIMARY KEY REFERENCES gear (id) ON DELETE CASCADE,
    kind      TEXT    NOT NULL CHECK (kind <> ''),
    barrel    TEXT    NOT NULL,
    for_id    INTEGER REFERENCES instruments (id) ON DELETE SET NULL,
    max_stop  REAL    NOT NULL CHECK (max_stop >= 0),  -- mm, 0: the barrel's
    path_used REAL    NOT NULL CHECK (path_used >= 0)  -- mm
) STRICT;

CREATE TABLE filters (
    id           INTEGER PRIMARY KEY REFERENCES gear (id) ON DELETE CASCADE,
    kind         TEXT    NOT NULL CHECK (kind <> ''),
    barrel       TEXT    NOT NULL,
    transmission REAL    NOT NULL CHECK (transmission BETWEEN 0 AND 1)
) STRICT;

CREATE TABLE finders (
    id       INTEGER PRIMARY KEY REFERENCES gear (id) ON DELETE CASCADE,
    kind     TEXT    NOT NULL CHECK (kind <> ''),
    aperture REAL    NOT NULL CHECK (aperture >= 0),           -- mm
    power    REAL    NOT NULL CHECK (power >= 0),
    field    REAL    NOT NULL CHECK (field BETWEEN 0 AND 180), -- degrees
    for_id   INTEGER REFERENCES instruments (id) ON DELETE SET NULL
) STRICT;

CREATE TABLE dew_gear (
    id           INTEGER PRIMARY KEY REFERENCES gear (id) ON DELETE CASCADE,
    kind         TEXT    NOT NULL CHECK (kind <> ''),
    min_diameter REAL    NOT NULL CHECK (min_diameter >= 0), -- mm
    max_diameter REAL    NOT NULL CHECK (max_diameter >= 0), -- mm
    length       REAL    NOT NULL CHECK (length >= 0),       -- mm
    power        REAL    NOT NULL CHECK (power >= 0),        -- W
    for_id       INTEGER REFERENCES instruments (id) ON DELETE SET NULL
) STRICT;

CREATE TABLE batteries (
    id       INTEGER PRIMARY KEY REFERENCES gear (id) ON DELETE CASCADE,
    kind     TEXT    NOT NULL CHECK (kind <> ''),
    capacity REAL    NOT NULL CHECK (capacity > 0), -- Ah
    voltage  REAL    NOT NULL CHECK (voltage > 0),  -- V
    aged     INTEGER NOT NULL CHECK (aged IN (0, 1)),
    for_id   INTEGER REFERENCES instruments (id) ON DELETE SET NULL
) STRICT;

CREATE TABLE steps (
    id     INTEGER PRIMARY KEY REFERENCES gear (id) ON DELETE CASCADE,
    kind   TEXT    NOT NULL CHECK (kind <> ''),
    height REAL    NOT NULL CHECK (height >= 0) -- m
) STRICT;
