-- Why: the field is laid out: what stands on the ground of a site, and where
-- each instrument has its place on a night. Places have a version and steps of
-- undo of their own, so that one person may move them while another works on
-- the line-up.
-- Existing rows: untouched; a site without a row here has not been described,
-- a night without places has not been laid out.

-- +goose Up
CREATE TABLE site_grounds (
    site_id INTEGER PRIMARY KEY REFERENCES sites (id) ON DELETE CASCADE,
    version INTEGER NOT NULL DEFAULT 1,
    outline TEXT    NOT NULL DEFAULT '[]' CHECK (json_valid(outline) AND json_type(outline) = 'array'), -- [[m east, m north], ...]
    before  TEXT    CHECK (json_valid(before)) -- the ground before the last change, for undo; NULL: none
) STRICT;

CREATE TABLE ground_features (
    site_id  INTEGER NOT NULL REFERENCES site_grounds (site_id) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    kind     TEXT    NOT NULL CHECK (kind IN ('gate', 'path', 'tree', 'hedge', 'building', 'keep-out', 'lamp', 'red-lamp', 'power', 'cable')),
    name     TEXT    NOT NULL DEFAULT '',
    points   TEXT    NOT NULL CHECK (json_valid(points) AND json_type(points) = 'array'), -- [[m east, m north], ...]
    radius   REAL    NOT NULL DEFAULT 0 CHECK (radius >= 0), -- m
    width    REAL    NOT NULL DEFAULT 0 CHECK (width >= 0),  -- m
    height   REAL    NOT NULL DEFAULT 0 CHECK (height >= 0), -- m
    wheels   INTEGER NOT NULL DEFAULT 0 CHECK (wheels IN (0, 1)),
    PRIMARY KEY (site_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE night_fields (
    night_id INTEGER PRIMARY KEY REFERENCES nights (id) ON DELETE CASCADE,
    version  INTEGER NOT NULL DEFAULT 0,
    step     INTEGER NOT NULL DEFAULT 0 -- position in field_steps that is in force
) STRICT;

CREATE TABLE night_places (
    night_id      INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    instrument_id INTEGER NOT NULL REFERENCES instruments (id) ON DELETE CASCADE,
    number        INTEGER NOT NULL CHECK (number > 0),
    x             REAL    NOT NULL CHECK (x BETWEEN -1000 AND 1000), -- m east
    y             REAL    NOT NULL CHECK (y BETWEEN -1000 AND 1000), -- m north
    queue         REAL    NOT NULL CHECK (queue >= 0 AND queue < 360), -- degrees from north through east
    pinned        INTEGER NOT NULL DEFAULT 0 CHECK (pinned IN (0, 1)),
    PRIMARY KEY (night_id, instrument_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE field_steps (
    night_id INTEGER NOT NULL REFERENCES night_fields (night_id) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    what     TEXT    NOT NULL,
    places   TEXT    NOT NULL CHECK (json_valid(places) AND json_type(places) = 'array'),
    PRIMARY KEY (night_id, position)
) STRICT, WITHOUT ROWID;
