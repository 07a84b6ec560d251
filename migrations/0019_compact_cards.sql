-- Why: a third size of cards, one page an instrument with the charts beside
-- the words, so that a usual night needs fewer sheets.
-- Existing rows: keep their size.

-- +goose Up
CREATE TABLE papers_wider (
    id       INTEGER PRIMARY KEY CHECK (id = 1),
    layout   TEXT NOT NULL DEFAULT 'half' CHECK (layout IN ('half', 'full', 'compact')),
    language TEXT NOT NULL DEFAULT 'en' CHECK (language <> '')
) STRICT;
INSERT INTO papers_wider (id, layout, language) SELECT id, layout, language FROM papers;
DROP TABLE papers;
ALTER TABLE papers_wider RENAME TO papers;
