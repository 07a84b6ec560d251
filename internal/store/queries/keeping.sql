-- name: GetKeeping :one
SELECT * FROM keeping WHERE id = 1;

-- name: UpdateKeeping :execrows
-- Touches no row when the version is not the present one.
UPDATE keeping SET
    version = version + 1,
    answers_months = @answers_months,
    history_months = @history_months,
    contacts_months = @contacts_months
WHERE id = 1 AND version = @version;

-- name: ListNightsBefore :many
-- Nights before a date for which something about people is kept.
SELECT n.id FROM nights n
WHERE n.date < @before AND (
    EXISTS (SELECT 1 FROM night_lifts l WHERE l.night_id = n.id)
    OR EXISTS (SELECT 1 FROM packing p WHERE p.night_id = n.id)
    OR EXISTS (
        SELECT 1 FROM night_volunteers v WHERE v.night_id = n.id
        AND (v.answer <> '' OR v.wishes <> '' OR v.from_at IS NOT NULL OR v.to_at IS NOT NULL OR v.drive_minutes <> 0)
    )
)
ORDER BY n.id;

-- name: ClearAnswersOfNight :exec
-- Who was asked stays, because past duties name them.
UPDATE night_volunteers SET answer = '', wishes = '', from_at = NULL, to_at = NULL, drive_minutes = 0 WHERE night_id = ?;

-- name: ClearLiftsOfNight :exec
DELETE FROM night_lifts WHERE night_id = ?;

-- name: ClearPackingOfNight :exec
DELETE FROM packing WHERE night_id = ?;

-- name: ListNightsWithHistoryBefore :many
-- Nights before a date whose history still says who did what.
SELECT DISTINCT n.id FROM nights n JOIN night_log l ON l.night_id = n.id
WHERE n.date < @before AND l.who NOT IN ('', 'Duskboard') ORDER BY n.id;

-- name: DeleteHistoryOfNight :exec
-- All but what undo and redo still need.
DELETE FROM night_log WHERE night_log.night_id = @night_id
    AND night_log.id NOT IN (SELECT s.log_id FROM line_up_steps s WHERE s.night_id = @night_id);

-- name: BlankHistoryOfNight :exec
UPDATE night_log SET who = '', what = 'an earlier change' WHERE night_id = ?;

-- name: BlankDecisionsOfNight :exec
UPDATE decisions SET who = 'somebody' WHERE night_id = ?;

-- name: BlankKeptOfNight :exec
UPDATE kept_line_ups SET who = '' WHERE night_id = ?;

-- name: ListIdleContacts :many
-- Volunteers with contact data who took no part since a date: asked for no
-- night, on no roster, no link used or made.
SELECT v.id FROM volunteers v
WHERE v.forgotten = 0 AND (v.email <> '' OR v.phone <> '')
    AND NOT EXISTS (SELECT 1 FROM night_volunteers a JOIN nights n ON n.id = a.night_id WHERE a.volunteer_id = v.id AND n.date >= @since)
    AND NOT EXISTS (SELECT 1 FROM duties d JOIN nights n ON n.id = d.night_id WHERE d.volunteer_id = v.id AND n.date >= @since)
    AND NOT EXISTS (SELECT 1 FROM crew_links c WHERE c.volunteer_id = v.id AND coalesce(c.used_at, c.made_at) >= @since)
    AND (
        EXISTS (SELECT 1 FROM night_volunteers a WHERE a.volunteer_id = v.id)
        OR EXISTS (SELECT 1 FROM duties d WHERE d.volunteer_id = v.id)
    )
ORDER BY v.id;

-- name: ClearContacts :exec
UPDATE volunteers SET version = version + 1, email = '', phone = '', share = 0 WHERE id = ?;

-- name: DeleteClubLogBefore :exec
DELETE FROM club_log WHERE at < @at;
