-- Why: what a night needs in the field: the club's thresholds and decision time
-- for go or no-go, the decisions themselves, when and from where each
-- instrument is put out, and who brings what.
-- Existing rows: untouched; the club begins with common thresholds, a night
-- without a row here has no decision, usual put-out times and planned packing.

-- +goose Up
CREATE TABLE go_rules (
    id           INTEGER PRIMARY KEY CHECK (id = 1), -- one row for ever
    version      INTEGER NOT NULL DEFAULT 1,
    decide       INTEGER NOT NULL DEFAULT 720 CHECK (decide BETWEEN 0 AND 1439), -- minutes after midnight, site's clock
    post         INTEGER NOT NULL DEFAULT 780 CHECK (post BETWEEN 0 AND 1439),
    cloud_doubt  REAL    NOT NULL DEFAULT 40, -- per cent
    cloud_off    REAL    NOT NULL DEFAULT 75,
    wind_doubt   REAL    NOT NULL DEFAULT 7,  -- m/s at 10 m
    wind_off     REAL    NOT NULL DEFAULT 10,
    gust_doubt   REAL    NOT NULL DEFAULT 10, -- m/s at 10 m
    gust_off     REAL    NOT NULL DEFAULT 14,
    rain_doubt   REAL    NOT NULL DEFAULT 20, -- chance, per cent
    rain_off     REAL    NOT NULL DEFAULT 50,
    seeing_doubt REAL    NOT NULL DEFAULT 3.5, -- arcseconds
    seeing_off   REAL    NOT NULL DEFAULT 6,
    chill_doubt  REAL    NOT NULL DEFAULT -10, -- feels like, degrees C
    chill_off    REAL    NOT NULL DEFAULT -27,
    dew_margin   REAL    NOT NULL DEFAULT 3 CHECK (dew_margin >= 0),              -- K
    min_hours    REAL    NOT NULL DEFAULT 1.5 CHECK (min_hours >= 0),
    go_share     REAL    NOT NULL DEFAULT 0.6666666666666666 CHECK (go_share BETWEEN 0 AND 1),
    CHECK (cloud_doubt <= cloud_off AND wind_doubt <= wind_off AND gust_doubt <= gust_off
        AND rain_doubt <= rain_off AND seeing_doubt <= seeing_off AND chill_doubt >= chill_off)
) STRICT;

INSERT INTO go_rules (id) VALUES (1);

-- Every decision stays; the newest counts.
CREATE TABLE decisions (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    night_id INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    at       TEXT    NOT NULL CHECK (at LIKE '____-__-__T__:__:__.___Z'),
    who      TEXT    NOT NULL CHECK (who <> ''),
    verdict  TEXT    NOT NULL CHECK (verdict IN ('go', 'doubtful', 'off')),
    words    TEXT    NOT NULL DEFAULT ''
) STRICT;

CREATE INDEX decisions_by_night ON decisions (night_id, id);

-- How one instrument is handled on one night, where that differs from the usual.
CREATE TABLE put_outs (
    night_id      INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    instrument_id INTEGER NOT NULL REFERENCES instruments (id) ON DELETE CASCADE,
    put_out_at    TEXT    CHECK (put_out_at LIKE '____-__-__T__:__:__.___Z'), -- NULL: as planned
    storage_temp  REAL    CHECK (storage_temp BETWEEN -60 AND 60),            -- degrees C, NULL: typical for the place
    fan_off       INTEGER NOT NULL DEFAULT 0 CHECK (fan_off IN (0, 1)),
    PRIMARY KEY (night_id, instrument_id)
) STRICT, WITHOUT ROWID;

-- What people said about packing: "I bring it" or "I cannot". item is a key of
-- package departure, such as gear-12 or first-aid.
CREATE TABLE packing (
    night_id     INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    item         TEXT    NOT NULL CHECK (item <> ''),
    volunteer_id INTEGER NOT NULL REFERENCES volunteers (id) ON DELETE CASCADE,
    brings       INTEGER NOT NULL CHECK (brings IN (0, 1)),
    PRIMARY KEY (night_id, item, volunteer_id)
) STRICT, WITHOUT ROWID;
