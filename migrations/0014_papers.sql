-- Why: the papers of a night. A programme is public only once a coordinator
-- says so; size and language of the cards are the club's, not one browser's;
-- a club may word what the cards say of a target, and add a language.
-- Existing rows: nothing is public, cards are two to a sheet in English, with
-- the words that the program brings.

-- +goose Up
CREATE TABLE papers (
    id       INTEGER PRIMARY KEY CHECK (id = 1),
    layout   TEXT NOT NULL DEFAULT 'half' CHECK (layout IN ('half', 'full')),
    language TEXT NOT NULL DEFAULT 'en' CHECK (language <> '')
) STRICT;
INSERT INTO papers (id) VALUES (1);

CREATE TABLE night_papers (
    night_id  INTEGER PRIMARY KEY REFERENCES nights (id) ON DELETE CASCADE,
    published INTEGER NOT NULL DEFAULT 0 CHECK (published IN (0, 1)),
    language  TEXT    NOT NULL DEFAULT '' -- of cards and programme; '' is the club's
) STRICT;

-- What a club says of a target in a language, in place of the program's own
-- words. before is what stood there until the last change, for undo; '{}' is
-- the program's own words.
CREATE TABLE card_words (
    language TEXT NOT NULL CHECK (language <> ''),
    target   TEXT NOT NULL CHECK (target <> ''),
    words    TEXT NOT NULL CHECK (json_valid(words) AND json_type(words) = 'object'),
    before   TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(before) AND json_type(before) = 'object'),
    PRIMARY KEY (language, target)
) STRICT;

-- A language of the club's own: every text by its key. A removed one stays as
-- a row, so that it can be brought back.
CREATE TABLE card_languages (
    code    TEXT PRIMARY KEY CHECK (code <> ''),
    name    TEXT NOT NULL CHECK (name <> ''),
    texts   TEXT NOT NULL CHECK (json_valid(texts) AND json_type(texts) = 'object'),
    before  TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(before) AND json_type(before) = 'object'), -- for undo
    at      TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__.___Z'),
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1))
) STRICT;
