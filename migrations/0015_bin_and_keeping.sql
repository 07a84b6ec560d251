-- Why: what a coordinator takes away lies in a bin for 30 days before it is
-- deleted; an import can be taken back; what is done to the club as a whole
-- has a history; the club sets how long what people said is kept; and it is
-- recorded when somebody agreed that the crew may see their contact data.
-- Existing rows: what is retired already lies in the bin from now on, with its
-- 30 days ahead; nothing else is deleted in an existing club unless the club
-- says so, and the agreements that stand are recorded as of now.

-- +goose Up

-- What lies in the bin. Most kinds are rows that stay in their table, retired,
-- for as long; content holds the row of the kinds that leave it, as JSON.
CREATE TABLE bin (
    kind    TEXT    NOT NULL CHECK (kind IN ('gear', 'site', 'night', 'volunteer', 'target', 'satellite', 'line-up')),
    ref     INTEGER NOT NULL,
    name    TEXT    NOT NULL,
    at      TEXT    NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ', 'now')) CHECK (at LIKE '____-__-__T__:__:__.___Z'),
    who     TEXT    NOT NULL DEFAULT '',
    content TEXT    CHECK (json_valid(content)),
    PRIMARY KEY (kind, ref)
) STRICT, WITHOUT ROWID;

INSERT INTO bin (kind, ref, name) SELECT 'gear', id, name FROM gear WHERE retired = 1;
INSERT INTO bin (kind, ref, name) SELECT 'site', id, name FROM sites WHERE retired = 1;
INSERT INTO bin (kind, ref, name) SELECT 'night', id, name FROM nights WHERE retired = 1;
INSERT INTO bin (kind, ref, name) SELECT 'volunteer', id, name FROM volunteers WHERE retired = 1 AND forgotten = 0;
INSERT INTO bin (kind, ref, name) SELECT 'target', id, name FROM own_targets WHERE removed = 1;

-- The highest id of each table from which rows are deleted for good: an id is
-- never given out twice, because addresses, phones and histories name it.
CREATE TABLE last_ids (
    kind TEXT    PRIMARY KEY CHECK (kind IN ('gear', 'site', 'night')),
    id   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

INSERT INTO last_ids (kind, id) SELECT 'gear', coalesce(max(id), 0) FROM gear;
INSERT INTO last_ids (kind, id) SELECT 'site', coalesce(max(id), 0) FROM sites;
INSERT INTO last_ids (kind, id) SELECT 'night', coalesce(max(id), 0) FROM nights;

-- +goose StatementBegin
CREATE TRIGGER gear_ids BEFORE DELETE ON gear BEGIN
    UPDATE last_ids SET id = max(id, OLD.id) WHERE kind = 'gear';
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER site_ids BEFORE DELETE ON sites BEGIN
    UPDATE last_ids SET id = max(id, OLD.id) WHERE kind = 'site';
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER night_ids BEFORE DELETE ON nights BEGIN
    UPDATE last_ids SET id = max(id, OLD.id) WHERE kind = 'night';
END;
-- +goose StatementEnd

-- Imports that can be taken back; done holds what each row was before.
CREATE TABLE imports (
    id   INTEGER PRIMARY KEY AUTOINCREMENT,
    at   TEXT    NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ', 'now')) CHECK (at LIKE '____-__-__T__:__:__.___Z'),
    who  TEXT    NOT NULL DEFAULT '',
    what TEXT    NOT NULL CHECK (what <> ''),
    done TEXT    NOT NULL CHECK (json_valid(done))
) STRICT;

-- What was done to the club as a whole: things deleted for good, imports,
-- people erased, what was cleared because its time was over.
CREATE TABLE club_log (
    id   INTEGER PRIMARY KEY AUTOINCREMENT,
    at   TEXT    NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ', 'now')) CHECK (at LIKE '____-__-__T__:__:__.___Z'),
    who  TEXT    NOT NULL DEFAULT '',
    what TEXT    NOT NULL CHECK (what <> '')
) STRICT;

-- How many months after a night things about people are kept; 0 is for ever.
CREATE TABLE keeping (
    id              INTEGER PRIMARY KEY CHECK (id = 1), -- one row for ever
    version         INTEGER NOT NULL DEFAULT 1,
    answers_months  INTEGER NOT NULL CHECK (answers_months BETWEEN 0 AND 240),  -- who could come when, lifts, who brings what
    history_months  INTEGER NOT NULL CHECK (history_months BETWEEN 0 AND 240),  -- who changed what in a night
    contacts_months INTEGER NOT NULL CHECK (contacts_months BETWEEN 0 AND 240)  -- e-mail and phone of who took no part since
) STRICT;

INSERT INTO keeping (id, answers_months, history_months, contacts_months)
SELECT 1, iif(n.used, 0, 12), iif(n.used, 0, 36), 0
FROM (SELECT EXISTS (SELECT 1 FROM nights) OR EXISTS (SELECT 1 FROM volunteers) AS used) n;

-- Each time that somebody agreed, or took it back.
CREATE TABLE consents (
    id           INTEGER PRIMARY KEY AUTOINCREMENT,
    volunteer_id INTEGER NOT NULL REFERENCES volunteers (id) ON DELETE CASCADE,
    at           TEXT    NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ', 'now')) CHECK (at LIKE '____-__-__T__:__:__.___Z'),
    who          TEXT    NOT NULL DEFAULT '', -- who recorded it
    agreed       INTEGER NOT NULL CHECK (agreed IN (0, 1))
) STRICT;

CREATE INDEX consents_by_volunteer ON consents (volunteer_id);

INSERT INTO consents (volunteer_id, agreed) SELECT id, 1 FROM volunteers WHERE share = 1;
