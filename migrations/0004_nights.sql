-- Why: public nights with what was chosen for them and the plan that came of
-- it. The plan has two versions of its own beside the night's: one person may
-- work on the line-up while another staffs the crew.
-- Existing rows: untouched.

-- +goose Up
CREATE TABLE nights (
    id              INTEGER PRIMARY KEY,
    version         INTEGER NOT NULL DEFAULT 1, -- of the night and of what was chosen for it
    line_up_version INTEGER NOT NULL DEFAULT 1, -- of the showings and the forbidden pairs
    roster_version  INTEGER NOT NULL DEFAULT 1, -- of the duties
    line_up_step    INTEGER NOT NULL DEFAULT 0, -- position in line_up_steps that is in force
    name            TEXT    NOT NULL,
    date            TEXT    NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'), -- of the evening
    site_id         INTEGER NOT NULL REFERENCES sites (id),
    public_from_at  TEXT    NOT NULL CHECK (public_from_at LIKE '____-__-__T__:__:__.___Z'),
    public_seconds  INTEGER NOT NULL CHECK (public_seconds > 0 AND public_seconds <= 90000), -- a night has 25 hours at most
    block_seconds   INTEGER NOT NULL CHECK (block_seconds IN (600, 900, 1200, 1800)),
    guests          INTEGER NOT NULL CHECK (guests >= 0),
    audience        TEXT    NOT NULL CHECK (audience <> ''),
    seeing          REAL    NOT NULL CHECK (seeing >= 0 AND seeing < 60), -- arcseconds, 0: unknown
    notes           TEXT    NOT NULL DEFAULT '',
    retired         INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1))
) STRICT;

CREATE INDEX nights_by_date ON nights (date);

CREATE TABLE night_gear (
    night_id INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    kind     TEXT    NOT NULL,
    gear_id  INTEGER NOT NULL,
    PRIMARY KEY (night_id, gear_id),
    FOREIGN KEY (gear_id, kind) REFERENCES gear (id, kind) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

CREATE TABLE night_volunteers (
    night_id      INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    volunteer_id  INTEGER NOT NULL REFERENCES volunteers (id) ON DELETE CASCADE,
    answer        TEXT    NOT NULL CHECK (answer IN ('', 'yes', 'no', 'maybe')),
    from_at       TEXT    CHECK (from_at LIKE '____-__-__T__:__:__.___Z'), -- NULL: from the start
    to_at         TEXT    CHECK (to_at LIKE '____-__-__T__:__:__.___Z' AND (from_at IS NULL OR to_at > from_at)), -- NULL: to the end
    drive_minutes INTEGER NOT NULL CHECK (drive_minutes BETWEEN 0 AND 1440),
    wishes        TEXT    NOT NULL DEFAULT '',
    PRIMARY KEY (night_id, volunteer_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE night_targets (
    night_id  INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    target_id TEXT    NOT NULL CHECK (target_id <> ''), -- of the catalogue, or own-N
    position  INTEGER NOT NULL,                         -- order in which they were chosen
    must      INTEGER NOT NULL DEFAULT 0 CHECK (must IN (0, 1)),
    PRIMARY KEY (night_id, target_id)
) STRICT, WITHOUT ROWID;

-- AUTOINCREMENT: an undone showing comes back under its old id, so that id
-- must not have gone to another in the meantime.
CREATE TABLE showings (
    id             INTEGER PRIMARY KEY AUTOINCREMENT,
    night_id       INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    instrument_id  INTEGER NOT NULL REFERENCES instruments (id),
    target_id      TEXT    NOT NULL CHECK (target_id <> ''),
    eyepiece_id    INTEGER REFERENCES eyepieces (id),
    amplifier_id   INTEGER REFERENCES amplifiers (id),
    diagonal_id    INTEGER REFERENCES diagonals (id),
    filter_id      INTEGER REFERENCES filters (id),
    from_at        TEXT    NOT NULL CHECK (from_at LIKE '____-__-__T__:__:__.___Z'),
    length_seconds INTEGER NOT NULL CHECK (length_seconds > 0),
    pinned         INTEGER NOT NULL DEFAULT 0 CHECK (pinned IN (0, 1)),
    backup_id      TEXT    NOT NULL DEFAULT ''
) STRICT;

CREATE INDEX showings_by_night ON showings (night_id, from_at);

CREATE TABLE forbidden_pairs (
    night_id      INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    instrument_id INTEGER NOT NULL REFERENCES instruments (id),
    target_id     TEXT    NOT NULL CHECK (target_id <> ''),
    PRIMARY KEY (night_id, instrument_id, target_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE duties (
    id             INTEGER PRIMARY KEY AUTOINCREMENT,
    night_id       INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    volunteer_id   INTEGER NOT NULL REFERENCES volunteers (id) ON DELETE CASCADE,
    role           TEXT    NOT NULL CHECK (role <> ''),
    instrument_id  INTEGER REFERENCES instruments (id),
    from_at        TEXT    NOT NULL CHECK (from_at LIKE '____-__-__T__:__:__.___Z'),
    length_seconds INTEGER NOT NULL CHECK (length_seconds > 0),
    pinned         INTEGER NOT NULL DEFAULT 0 CHECK (pinned IN (0, 1)),
    UNIQUE (night_id, volunteer_id, from_at) -- nobody begins two duties at once
) STRICT;
