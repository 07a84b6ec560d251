-- Why: comets and minor planets that a coordinator pastes as a published line
-- of orbital elements become targets of the club's own; satellites pasted as
-- two-line elements give the night its passes.
-- Existing rows: own targets keep their fixed place (elements stay empty).

-- +goose Up
ALTER TABLE own_targets ADD COLUMN elements TEXT NOT NULL DEFAULT ''; -- the published line; '' for a fixed place

CREATE TABLE satellites (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    name     TEXT NOT NULL CHECK (name <> ''),
    elements TEXT NOT NULL CHECK (elements <> ''), -- name line and the two lines, as published
    added_at TEXT NOT NULL CHECK (added_at GLOB '????-??-??T??:??:??.???Z')
) STRICT;
