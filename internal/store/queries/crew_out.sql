-- name: GetCrewRules :one
SELECT * FROM crew_rules WHERE id = 1;

-- name: UpdateCrewRules :execrows
-- Touches no row when the version is not the present one.
UPDATE crew_rules SET
    version = version + 1,
    work_minutes = @work_minutes,
    break_minutes = @break_minutes,
    least_minutes = @least_minutes,
    lead_minutes = @lead_minutes,
    after_minutes = @after_minutes,
    train_minutes = @train_minutes,
    per_greeter = @per_greeter,
    per_queue_host = @per_queue_host,
    per_guide = @per_guide,
    per_parking = @per_parking,
    per_safety = @per_safety,
    per_set_up = @per_set_up,
    per_pack_down = @per_pack_down,
    minors_guarded = @minors_guarded,
    laser = @laser,
    season_month = @season_month
WHERE id = 1 AND version = @version;

-- name: InsertCrewLink :exec
INSERT INTO crew_links (hash, volunteer_id, made_at) VALUES (@hash, @volunteer_id, @made_at);

-- name: GetCrewLink :one
SELECT * FROM crew_links WHERE hash = ?;

-- name: TouchCrewLink :exec
UPDATE crew_links SET used_at = @used_at WHERE hash = @hash;

-- name: ListCrewLinks :many
SELECT * FROM crew_links ORDER BY made_at, hash;

-- name: DeleteCrewLinks :exec
DELETE FROM crew_links WHERE volunteer_id = ?;

-- name: ListLifts :many
SELECT * FROM night_lifts WHERE night_id = ? ORDER BY volunteer_id;

-- name: PutLift :exec
INSERT INTO night_lifts (night_id, volunteer_id, seats, needs, place, wish)
VALUES (@night_id, @volunteer_id, @seats, @needs, @place, @wish)
ON CONFLICT (night_id, volunteer_id) DO UPDATE SET
    seats = excluded.seats, needs = excluded.needs, place = excluded.place, wish = excluded.wish;

-- name: UpdateAnswer :execrows
-- Touches no row when the volunteer is not asked for the night.
UPDATE night_volunteers SET
    answer = @answer, from_at = @from_at, to_at = @to_at, drive_minutes = @drive_minutes, wishes = @wishes
WHERE night_id = @night_id AND volunteer_id = @volunteer_id;

-- name: TouchNight :exec
-- Whoever has the night's choice open is told that an answer came.
UPDATE nights SET version = version + 1 WHERE id = ?;

-- name: ListRosterLog :many
SELECT id, at, what, roster FROM night_log WHERE night_id = ? AND roster IS NOT NULL ORDER BY id;

-- name: ListServed :many
-- Duties of the nights from one date to another, both included.
SELECT d.night_id, n.name AS night_name, n.date, v.id AS volunteer_id, v.name AS volunteer_name, d.role, d.length_seconds
FROM duties d
JOIN nights n ON n.id = d.night_id
JOIN volunteers v ON v.id = d.volunteer_id
WHERE n.date >= @from_date AND n.date <= @to_date AND n.retired = 0
ORDER BY n.date, n.id, v.name, v.id, d.from_at;

-- name: ForgetVolunteer :exec
UPDATE volunteers SET
    version = version + 1, name = 'a volunteer', email = '', phone = '', share = 0, minor = 0, skills = '[]', roles = '[]',
    no_lifting = 0, no_ladder = 0, must_sit = 0, no_night_driving = 0, languages = '[]', drive_minutes = 0, notes = '',
    retired = 1, forgotten = 1, brings = '[]'
WHERE id = ?;

-- name: ListNightsAhead :many
-- Nights from a date on for which a volunteer has duties.
SELECT DISTINCT n.id FROM nights n JOIN duties d ON d.night_id = n.id
WHERE d.volunteer_id = @volunteer_id AND n.date >= @from_date ORDER BY n.id;

-- name: DeleteDutiesOf :exec
DELETE FROM duties WHERE night_id = @night_id AND volunteer_id = @volunteer_id;

-- name: BumpRoster :exec
UPDATE nights SET roster_version = roster_version + 1 WHERE id = ?;

-- name: DeleteAnswersOf :exec
-- Of nights from a date on; of past ones only the wishes go.
DELETE FROM night_volunteers WHERE volunteer_id = @volunteer_id
    AND night_id IN (SELECT id FROM nights WHERE nights.date >= @from_date);

-- name: ClearWishesOf :exec
UPDATE night_volunteers SET wishes = '', from_at = NULL, to_at = NULL, drive_minutes = 0 WHERE volunteer_id = ?;

-- name: DeleteLiftsOf :exec
DELETE FROM night_lifts WHERE volunteer_id = ?;

-- name: DeletePackingOf :exec
DELETE FROM packing WHERE volunteer_id = ?;

-- name: DisownGear :exec
UPDATE gear SET owner_id = NULL WHERE owner_id = ?;

-- name: DeleteConsents :exec
DELETE FROM consents WHERE volunteer_id = ?;

-- name: InsertConsent :exec
INSERT INTO consents (volunteer_id, who, agreed) VALUES (@volunteer_id, @who, @agreed);

-- name: ListConsents :many
SELECT * FROM consents WHERE volunteer_id = ? ORDER BY id;

-- name: ListAttendance :many
-- Of the nights from one date to another, both included.
SELECT a.night_id, n.name AS night_name, n.date, v.id AS volunteer_id, v.name AS volunteer_name, a.there, a.minutes
FROM attendance a
JOIN nights n ON n.id = a.night_id
JOIN volunteers v ON v.id = a.volunteer_id
WHERE n.date >= @from_date AND n.date <= @to_date AND n.retired = 0
ORDER BY n.date, n.id, v.name, v.id;

-- name: ListNightAttendance :many
SELECT * FROM attendance WHERE night_id = ? ORDER BY volunteer_id;

-- name: ClearAttendance :exec
DELETE FROM attendance WHERE night_id = ?;

-- name: InsertAttendance :exec
INSERT INTO attendance (night_id, volunteer_id, there, minutes) VALUES (@night_id, @volunteer_id, @there, @minutes);
