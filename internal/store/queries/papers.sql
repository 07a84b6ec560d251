-- name: GetPapers :one
SELECT * FROM papers WHERE id = 1;

-- name: SetPapers :exec
UPDATE papers SET layout = @layout, language = @language WHERE id = 1;

-- name: ListNightPapers :many
SELECT * FROM night_papers ORDER BY night_id;

-- name: SetPublished :exec
INSERT INTO night_papers (night_id, published) VALUES (@night_id, @published)
ON CONFLICT (night_id) DO UPDATE SET published = excluded.published;

-- name: SetNightLanguage :exec
INSERT INTO night_papers (night_id, language) VALUES (@night_id, @language)
ON CONFLICT (night_id) DO UPDATE SET language = excluded.language;

-- name: ListCardWords :many
SELECT * FROM card_words WHERE language = ? ORDER BY target;

-- name: PutCardWords :exec
-- What stood there is kept for undo.
INSERT INTO card_words (language, target, words) VALUES (@language, @target, @words)
ON CONFLICT (language, target) DO UPDATE SET before = card_words.words, words = excluded.words;

-- name: SwapCardWords :execrows
UPDATE card_words SET words = before, before = words WHERE language = @language AND target = @target;

-- name: ListCardLanguages :many
SELECT * FROM card_languages ORDER BY code;

-- name: PutCardLanguage :exec
INSERT INTO card_languages (code, name, texts, at) VALUES (@code, @name, @texts, @at)
ON CONFLICT (code) DO UPDATE SET name = excluded.name, before = card_languages.texts, texts = excluded.texts, at = excluded.at, removed = 0;

-- name: SwapCardLanguage :execrows
UPDATE card_languages SET texts = before, before = texts WHERE code = @code AND before <> '{}';

-- name: RemoveCardLanguage :execrows
UPDATE card_languages SET removed = @removed WHERE code = @code;
