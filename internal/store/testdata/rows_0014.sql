UPDATE papers SET layout = 'full', language = 'de';
INSERT INTO night_papers (night_id, published, language) VALUES (8, 1, 'nl');
INSERT INTO card_words (language, target, words, before) VALUES ('en', 'm13', '{"line":"A ball of stars."}', '{}');
INSERT INTO card_languages (code, name, texts, at) VALUES ('nl', 'Nederlands', '{"text.care":"Zorg"}', '2026-10-01T08:00:00.000Z');
