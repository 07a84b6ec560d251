INSERT INTO volunteers (id, name, skills, roles) VALUES (3, 'Ada', '[{"mount":"rocker-box","level":"alone"}]', '["operator"]');
