package night

import (
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/sky"
	"duskboard/internal/weather"
)

// Site is a place where nights are held.
type Site struct {
	ID         int64
	Version    int64
	Name       string
	Place      sky.Place
	Zone       string      // IANA time zone name
	Horizon    sky.Horizon // outline of trees and houses; empty is a flat horizon
	Brightness float64     // sky at the zenith on a moonless night, mag per square arcsecond
	Ground     string      // "grass, level, gravel path to the gate"
	Power      bool        // mains at hand
	Ladders    bool        // whether ladders are allowed here
	Notes      string
	Retired    bool
}

// Location loads the site's time zone.
func (s Site) Location() (*time.Location, error) { return time.LoadLocation(s.Zone) }

// Audience is whom a night is for.
type Audience string

// Audiences.
const (
	Families  Audience = "families"
	School    Audience = "school"
	Adults    Audience = "adults"
	Beginners Audience = "beginners"
)

// Audiences lists every audience in the order in which a form offers them.
var Audiences = []Audience{Families, School, Adults, Beginners}

// Night is one public event.
type Night struct {
	ID         int64
	Version    int64
	Name       string
	Date       sky.Date // of the evening; the night runs from local noon to local noon
	SiteID     int64
	PublicFrom time.Time     // UTC instant at which the gate opens
	Public     time.Duration // true length of the public hours
	Block      time.Duration // time step of the plan: 10, 15, 20 or 30 minutes
	Guests     int           // expected
	Audience   Audience
	Seeing     float64 // expected, FWHM in arcseconds; 0 unknown
	Notes      string
	Retired    bool
}

// PublicTo returns the instant at which the public hours end.
func (n Night) PublicTo() time.Time { return n.PublicFrom.Add(n.Public) }

// Plan is a night with everything that was chosen for it.
type Plan struct {
	Club         Club
	Night        Night
	Site         Site
	Kit          kit.Kit  // the gear chosen for the night
	Targets      []string // catalogue ids that may be shown
	MustShow     []string // those that must be shown once
	Weather      weather.Series
	Volunteers   []crew.Volunteer // those asked
	Availability []crew.Availability
	Showings     []lineup.Showing
	Forbidden    []lineup.Pair
	Duties       []crew.Duty
	GoRules      GoRules
	Decisions    []Decision // oldest first
	PutOuts      []PutOut
	Packing      []Packing
	Ground       ground.Ground  // of the site; empty when nobody described it
	Places       []ground.Place // of the instruments on the field, by number

	// Own and Satellites are what a night file brings of the club's own: the
	// targets that Targets and Showings name, and what the sky page looks for.
	// The store keeps both with the club and leaves them empty here.
	Own        []OwnTarget `json:"-"` // not known numbers are NaN, which JSON cannot write
	Satellites []Satellite `json:"-"`
	// Remark is a night file's free words; the store does not keep it.
	Remark string `json:"-"`

	LineUpVersion int64 // of Showings and Forbidden, checked when they are saved
	RosterVersion int64 // of Duties, checked when they are saved
	CanUndo       bool  // there is an earlier line-up to go back to
	CanRedo       bool  // there is an undone one to go forward to
	FieldVersion  int64 // of Places, checked when they are saved
	CanUndoPlaces bool
	CanRedoPlaces bool
}

// Club holds the settings of the club.
type Club struct {
	Version     int64
	Name        string
	Paper       string  // "a4" or "letter"
	Inches      bool    // lengths are typed in inches first
	MinAltitude float64 // nothing is shown lower, degrees
	Ladders     bool    // ladders are allowed for guests at all
	Contact     string  // one phone number or address for the night, shown to the crew
	// SpotLongitude is the System II longitude of Jupiter's red spot, degrees;
	// NaN when the club did not note it.
	SpotLongitude float64 `json:"-"`
}
