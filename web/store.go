package web

import (
	"context"

	"duskboard/internal/crew"
	"duskboard/internal/kit"
	"duskboard/internal/night"
)

// Store is what the pages need kept. Lookups of what does not exist return an
// error of kind fault.NotFound. A save takes a pointer: it inserts when ID is
// 0, sets ID and Version, and returns fault.Conflict when the row was saved by
// someone else since Version was read.
type Store interface {
	RevisionStore
	ClubStore
	SiteStore
	KitStore
	CrewStore
	NightStore
	LineUpStore
	HistoryStore
	KeptStore
	RosterStore
	FieldStore
	TargetStore
	ImportNightStore
	DataStore
	PaperStore
	GroundStore
}

// ClubStore keeps the settings of the club.
type ClubStore interface {
	Club(ctx context.Context) (night.Club, error)
	SaveClub(ctx context.Context, c *night.Club) error
}

// SiteStore keeps the places.
type SiteStore interface {
	Sites(ctx context.Context) ([]night.Site, error) // with retired ones, by name
	Site(ctx context.Context, id int64) (night.Site, error)
	SaveSite(ctx context.Context, s *night.Site) error
}

// KitStore keeps the gear.
type KitStore interface {
	Kit(ctx context.Context, withRetired bool) (kit.Kit, error)

	Instrument(ctx context.Context, id int64) (kit.Instrument, error)
	SaveInstrument(ctx context.Context, x *kit.Instrument) error
	Eyepiece(ctx context.Context, id int64) (kit.Eyepiece, error)
	SaveEyepiece(ctx context.Context, x *kit.Eyepiece) error
	Amplifier(ctx context.Context, id int64) (kit.Amplifier, error)
	SaveAmplifier(ctx context.Context, x *kit.Amplifier) error
	Diagonal(ctx context.Context, id int64) (kit.Diagonal, error)
	SaveDiagonal(ctx context.Context, x *kit.Diagonal) error
	Filter(ctx context.Context, id int64) (kit.Filter, error)
	SaveFilter(ctx context.Context, x *kit.Filter) error
	Finder(ctx context.Context, id int64) (kit.Finder, error)
	SaveFinder(ctx context.Context, x *kit.Finder) error
	DewGear(ctx context.Context, id int64) (kit.DewGear, error)
	SaveDewGear(ctx context.Context, x *kit.DewGear) error
	Battery(ctx context.Context, id int64) (kit.Battery, error)
	SaveBattery(ctx context.Context, x *kit.Battery) error
	Steps(ctx context.Context, id int64) (kit.Steps, error)
	SaveSteps(ctx context.Context, x *kit.Steps) error
}

// CrewStore keeps the volunteers.
type CrewStore interface {
	Volunteers(ctx context.Context) ([]crew.Volunteer, error) // with retired ones, by name
	Volunteer(ctx context.Context, id int64) (crew.Volunteer, error)
	SaveVolunteer(ctx context.Context, v *crew.Volunteer) error
}

// NightStore keeps the nights.
type NightStore interface {
	Nights(ctx context.Context) ([]night.Night, error) // with retired ones, by date
	Night(ctx context.Context, id int64) (night.Night, error)
	SaveNight(ctx context.Context, n *night.Night) error
	Plan(ctx context.Context, nightID int64) (night.Plan, error)
	// SaveChoice counts as a change of the night: version is that of the night.
	SaveChoice(ctx context.Context, nightID, version int64, c night.Choice) error
}
