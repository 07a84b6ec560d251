-- Why: hours served were those of the rosters, whoever came; a volunteer had
-- nowhere to say what kit they bring as a rule; and a club's season need not
-- begin in January.
-- Existing rows: nothing is noted about nights that have been, so their hours
-- stay those of the rosters; nobody brings anything as a rule; seasons are
-- calendar years.

-- +goose Up
ALTER TABLE volunteers ADD COLUMN brings TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(brings) AND json_type(brings) = 'array'); -- ids of gear

ALTER TABLE crew_rules ADD COLUMN season_month INTEGER NOT NULL DEFAULT 1 CHECK (season_month BETWEEN 1 AND 12); -- in which a season begins

-- Who was there. Somebody without a row was there as the roster says.
CREATE TABLE attendance (
    night_id     INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    volunteer_id INTEGER NOT NULL REFERENCES volunteers (id) ON DELETE CASCADE,
    there        INTEGER NOT NULL CHECK (there IN (0, 1)),
    minutes      INTEGER NOT NULL DEFAULT -1 CHECK (minutes BETWEEN -1 AND 1440), -- served; -1: as on the roster
    PRIMARY KEY (night_id, volunteer_id)
) STRICT, WITHOUT ROWID;
