INSERT INTO kept_line_ups (id, night_id, name, who, at, line_up) VALUES
    (3, 8, 'if it clears late', 'Ada', '2026-10-01T08:00:00.000Z',
    '{"showings":[{"id":21,"instrument":11,"target":"moon","eyepiece":12,"amplifier":0,"diagonal":0,"filter":0,"from":"2026-10-24T19:00:00.000Z","seconds":1800,"pinned":false,"backup":""}],"forbidden":[]}');
