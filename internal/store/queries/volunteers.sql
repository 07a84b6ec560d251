-- name: ListVolunteers :many
SELECT * FROM volunteers ORDER BY name, id;

-- name: ListNightVolunteers :many
-- Retired ones stay: their answer for this night was given.
SELECT v.* FROM volunteers v
JOIN night_volunteers n ON n.volunteer_id = v.id
WHERE n.night_id = ?
ORDER BY v.name, v.id;

-- name: GetVolunteer :one
SELECT * FROM volunteers WHERE id = ?;

-- name: RaiseVolunteer :execrows
-- Touches no row when the version is not the present one.
UPDATE volunteers SET version = version + 1
WHERE id = @id AND version = @version;

-- name: PutVolunteer :one
-- An id of NULL makes a new row. RaiseVolunteer must have agreed to a change.
INSERT INTO volunteers (
    id, name, email, phone, share, minor, skills, roles, no_lifting, no_ladder, must_sit,
    no_night_driving, languages, drive_minutes, notes, retired, brings
)
VALUES (
    sqlc.narg(id), @name, @email, @phone, @share, @minor, @skills, @roles, @no_lifting,
    @no_ladder, @must_sit, @no_night_driving, @languages, @drive_minutes, @notes, @retired, @brings
)
ON CONFLICT (id) DO UPDATE SET
    name = excluded.name,
    email = excluded.email,
    phone = excluded.phone,
    share = excluded.share,
    minor = excluded.minor,
    skills = excluded.skills,
    roles = excluded.roles,
    no_lifting = excluded.no_lifting,
    no_ladder = excluded.no_ladder,
    must_sit = excluded.must_sit,
    no_night_driving = excluded.no_night_driving,
    languages = excluded.languages,
    drive_minutes = excluded.drive_minutes,
    notes = excluded.notes,
    retired = excluded.retired,
    brings = excluded.brings
RETURNING id;
