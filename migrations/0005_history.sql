-- Why: who changed what in a night, with the line-up or the roster as it was
-- after the change, so that an earlier one can be brought back; and the steps
-- of undo and redo, which survive a reload and a restart.
-- Existing rows: each night that is there gets its present line-up as the
-- first step, so that undo has a floor.

-- +goose Up
CREATE TABLE night_log (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    night_id INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    at       TEXT    NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ', 'now')) CHECK (at LIKE '____-__-__T__:__:__.___Z'),
    who      TEXT    NOT NULL DEFAULT '',
    what     TEXT    NOT NULL CHECK (what <> ''),
    line_up  TEXT    CHECK (json_valid(line_up)), -- NULL: this entry did not touch it
    roster   TEXT    CHECK (json_valid(roster))
) STRICT;

CREATE INDEX night_log_by_night ON night_log (night_id, id);

CREATE TABLE line_up_steps (
    night_id INTEGER NOT NULL REFERENCES nights (id) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    log_id   INTEGER NOT NULL REFERENCES night_log (id) ON DELETE CASCADE,
    PRIMARY KEY (night_id, position)
) STRICT, WITHOUT ROWID;

CREATE INDEX line_up_steps_by_log ON line_up_steps (log_id);

INSERT INTO night_log (night_id, what, line_up)
SELECT
    n.id,
    'history begins',
    json_object(
        'showings', json((
            SELECT json_group_array(json_object(
                'id', s.id, 'instrument', s.instrument_id, 'target', s.target_id,
                'eyepiece', coalesce(s.eyepiece_id, 0), 'amplifier', coalesce(s.amplifier_id, 0),
                'diagonal', coalesce(s.diagonal_id, 0), 'filter', coalesce(s.filter_id, 0),
                'from', s.from_at, 'seconds', s.length_seconds,
                'pinned', json(iif(s.pinned, 'true', 'false')), 'backup', s.backup_id))
            FROM showings s WHERE s.night_id = n.id)),
        'forbidden', json((
            SELECT json_group_array(json_object('instrument', f.instrument_id, 'target', f.target_id))
            FROM forbidden_pairs f WHERE f.night_id = n.id)))
FROM nights n;

INSERT INTO line_up_steps (night_id, position, log_id)
SELECT l.night_id, 0, l.id FROM night_log l;
