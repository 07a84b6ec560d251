package web

import (
	"context"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/night"
	"duskboard/internal/sky"
)

// RosterStore keeps duties and what the crew say.
type RosterStore interface {
	SaveDuties(ctx context.Context, nightID, rosterVersion int64, duties []crew.Duty, label string) (int64, error)
	RestoreRoster(ctx context.Context, nightID, rosterVersion, entryID int64) (int64, error)
	Rosters(ctx context.Context, nightID int64) ([]night.RosterEntry, error) // oldest first
	// DropOut saves an answer and the roster without its author, both or neither.
	DropOut(ctx context.Context, nightID, rosterVersion int64, a crew.Availability, l crew.Lift, left []crew.Duty, label string) (int64, error)

	CrewRules(ctx context.Context) (crew.Rules, error)
	SaveCrewRules(ctx context.Context, r *crew.Rules) error
	Served(ctx context.Context, from, to sky.Date) ([]crew.Served, error)

	Attendance(ctx context.Context, nightID int64) ([]crew.Attendance, error)
	// SaveAttendance is a Conflict when seen is not the mark of what is there.
	SaveAttendance(ctx context.Context, nightID int64, seen string, as []crew.Attendance) error
	Lifts(ctx context.Context, nightID int64) ([]crew.Lift, error)
	SaveAnswer(ctx context.Context, nightID int64, a crew.Availability, l crew.Lift) error

	AddLink(ctx context.Context, volunteerID int64, hash string, at time.Time) error
	LinkOwner(ctx context.Context, hash string, at time.Time, touch bool) (crew.Volunteer, error)
	Links(ctx context.Context) ([]crew.Link, error)
	RevokeLinks(ctx context.Context, volunteerID int64) error

	// ForgetVolunteer returns where the name still stands in other people's words.
	ForgetVolunteer(ctx context.Context, id int64, today sky.Date) (left []string, err error)
}
