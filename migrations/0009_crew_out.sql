-- Why: the crew answers by personal links, which are kept as hashes only; lifts
-- and wishes go with an answer; the club sets how many people a night needs;
-- and a volunteer can be forgotten, so that past duties name nobody.
-- Existing rows: nobody is forgotten, nobody has a link; the club begins with
-- common ratios.

-- +goose Up
ALTER TABLE volunteers ADD COLUMN forgotten INTEGER NOT NULL DEFAULT 0 CHECK (forgotten IN (0, 1));

-- A ratio of 0 means that the role is not wanted.
CREATE TABLE crew_rules (
    id              INTEGER PRIMARY KEY CHECK (id = 1), -- one row for ever
    version         INTEGER NOT NULL DEFAULT 1,
    work_minutes    INTEGER NOT NULL DEFAULT 180 CHECK (work_minutes BETWEEN 30 AND 900),   -- longest stretch without a break
    break_minutes   INTEGER NOT NULL DEFAULT 15 CHECK (break_minutes BETWEEN 5 AND 120),
    least_minutes   INTEGER NOT NULL DEFAULT 30 CHECK (least_minutes BETWEEN 5 AND 240),    -- shortest duty
    lead_minutes    INTEGER NOT NULL DEFAULT 60 CHECK (lead_minutes BETWEEN 0 AND 240),     -- set-up before the gate opens
    after_minutes   INTEGER NOT NULL DEFAULT 45 CHECK (after_minutes BETWEEN 0 AND 240),    -- pack-down after the end
    train_minutes   INTEGER NOT NULL DEFAULT 20 CHECK (train_minutes BETWEEN 5 AND 240),
    per_greeter     INTEGER NOT NULL DEFAULT 100 CHECK (per_greeter BETWEEN 0 AND 10000),   -- guests for one of them
    per_queue_host  INTEGER NOT NULL DEFAULT 75 CHECK (per_queue_host BETWEEN 0 AND 10000),
    per_guide       INTEGER NOT NULL DEFAULT 200 CHECK (per_guide BETWEEN 0 AND 10000),
    per_parking     INTEGER NOT NULL DEFAULT 120 CHECK (per_parking BETWEEN 0 AND 10000),
    per_safety      INTEGER NOT NULL DEFAULT 250 CHECK (per_safety BETWEEN 0 AND 10000),
    per_set_up      INTEGER NOT NULL DEFAULT 5 CHECK (per_set_up BETWEEN 0 AND 100),        -- instruments for one helper
    per_pack_down   INTEGER NOT NULL DEFAULT 5 CHECK (per_pack_down BETWEEN 0 AND 100),
    minors_guarded  INTEGER NOT NULL DEFAULT 1 CHECK (minors_guarded IN (0, 1)),            -- a minor is never alone on a duty
    laser           INTEGER NOT NULL DEFAULT 0 CHECK (laser IN (0, 1))                      -- the club and the law allow a pointer
) STRICT;

INSERT INTO crew_rules (id) VALUES (1);

-- The token itself is nowhere: whoever reads the database cannot use a link.
CREATE TABLE crew_links (
    hash         TEXT    PRIMARY KEY CHECK (length(hash) = 64), -- SHA-256 of the token, hexadecimal
    volunteer_id INTEGER NOT NULL REFERENCES volunteers (id) ON DELETE CASCADE,
    made_at      TEXT    NOT NULL CHECK (made_at LIKE '____-__-__T__:__:__.___Z'),
    used_at      TEXT    CHECK (used_at LIKE '____-__-__T__:__:__.___Z') -- NULL: not yet
) STRICT, WITHOUT ROWID;

CREATE INDEX crew_links_by_volunteer ON crew_links (volunteer_id);

-- Beside the answer, because the coordinator's page of answers replaces those.
CREATE TABLE night_lifts (
    night_id     INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    volunteer_id INTEGER NOT NULL REFERENCES volunteers (id) ON DELETE CASCADE,
    seats        INTEGER NOT NULL DEFAULT 0 CHECK (seats BETWEEN 0 AND 8), -- free in their car
    needs        INTEGER NOT NULL DEFAULT 0 CHECK (needs IN (0, 1)),       -- a lift themselves
    place        TEXT    NOT NULL DEFAULT '',                             -- from where
    wish         TEXT    NOT NULL DEFAULT '',                             -- a role, '' for none
    PRIMARY KEY (night_id, volunteer_id)
) STRICT, WITHOUT ROWID;
