package nightfile

import (
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/kit"
	"duskboard/internal/weather"
)

// Format is the name and version that every file carries.
const Format = "duskboard-night/1"

// File is the document.
type File struct {
	Format     string       `json:"format"`
	Note       string       `json:"note,omitempty"` // free words: where the file comes from
	Club       Club         `json:"club,omitzero"`
	Site       Site         `json:"site"`
	Night      Night        `json:"night"`
	Kit        kit.Kit      `json:"kit"`
	Targets    []string     `json:"targets"`
	MustShow   []string     `json:"mustShow,omitempty"`
	Volunteers []Volunteer  `json:"volunteers,omitempty"`
	Weather    *Weather     `json:"weather,omitempty"`
	Showings   []Showing    `json:"showings,omitempty"`
	Forbidden  []Pair       `json:"forbidden,omitempty"`
	Duties     []Duty       `json:"duties,omitempty"`
	OwnTargets []OwnTarget  `json:"ownTargets,omitempty"`                      // those of the club's own that the night names
	Satellites []Satellite  `json:"satellites,omitempty"`                      // whose passes the club looks for
	Places     []FieldPlace `json:"places,omitempty" jsonschema:"maxItems=99"` // where the instruments stand on the field
}

// Club is the part of the club's settings that a plan rests on.
type Club struct {
	Name        string  `json:"name,omitempty"`
	MinAltitude float64 `json:"minAltitude,omitempty" jsonschema:"minimum=0,maximum=89"` // degrees
	Ladders     bool    `json:"ladders"`
}

// Site is where the night is held.
type Site struct {
	Name       string     `json:"name" jsonschema:"minLength=1,maxLength=200"`
	Latitude   float64    `json:"latitude" jsonschema:"minimum=-90,maximum=90"`               // degrees, north positive
	Longitude  float64    `json:"longitude" jsonschema:"minimum=-180,maximum=180"`            // degrees, east positive
	Elevation  float64    `json:"elevation,omitempty" jsonschema:"minimum=-500,maximum=9000"` // m
	Zone       string     `json:"zone"`                                                       // IANA name
	Horizon    []Outline  `json:"horizon,omitempty"`
	Brightness float64    `json:"brightness" jsonschema:"minimum=0,maximum=25"` // zenith, mag per square arcsecond
	Ladders    bool       `json:"ladders"`
	Ground     string     `json:"ground,omitempty"`    // in words
	FieldPlan  *FieldPlan `json:"fieldPlan,omitempty"` // the ground as a drawn plan
	Power      bool       `json:"power,omitempty"`
	Notes      string     `json:"notes,omitempty"`
}

// Outline is one corner of the horizon.
type Outline struct {
	Azimuth  float64 `json:"azimuth" jsonschema:"minimum=0,maximum=360"` // degrees from north through east
	Altitude float64 `json:"altitude" jsonschema:"minimum=0,maximum=90"` // degrees
}

// Night is the event.
type Night struct {
	Name          string    `json:"name" jsonschema:"minLength=1,maxLength=200"`
	Date          string    `json:"date"` // of the evening, YYYY-MM-DD
	PublicFrom    time.Time `json:"publicFrom"`
	PublicMinutes float64   `json:"publicMinutes" jsonschema:"minimum=0,maximum=1500"`
	BlockMinutes  float64   `json:"blockMinutes" jsonschema:"minimum=0,maximum=240"`
	Guests        int       `json:"guests" jsonschema:"minimum=0,maximum=100000"`
	Audience      string    `json:"audience"`
	Seeing        float64   `json:"seeing,omitempty" jsonschema:"minimum=0,maximum=60"` // FWHM, arcseconds
	Notes         string    `json:"notes,omitempty"`
}

// Weather is the series of hours with where it comes from.
type Weather struct {
	Source      string          `json:"source"`
	Attribution string          `json:"attribution,omitempty"`
	IssuedAt    time.Time       `json:"issuedAt,omitzero"`
	Notes       []string        `json:"notes,omitempty"`
	Hours       []weather.Entry `json:"hours"`
}

// Volunteer is one of the crew with the answer for this night. Contact data
// stays at home: it is no part of a night file.
type Volunteer struct {
	ID        int64       `json:"id"`
	Name      string      `json:"name" jsonschema:"minLength=1,maxLength=200"`
	Minor     bool        `json:"minor,omitempty"`
	Roles     []crew.Role `json:"roles,omitempty"`
	Skills    []Skill     `json:"skills,omitempty"`
	Limits    Limits      `json:"limits,omitzero"`
	Languages []string    `json:"languages,omitempty"`
	Drive     int         `json:"driveMinutes,omitempty" jsonschema:"minimum=0,maximum=1440"`        // usual
	Tonight   int         `json:"driveTonightMinutes,omitempty" jsonschema:"minimum=0,maximum=1440"` // to this site, when it differs
	Answer    crew.Answer `json:"answer,omitempty"`
	From      time.Time   `json:"from,omitzero"`
	To        time.Time   `json:"to,omitzero"`
	Wishes    string      `json:"wishes,omitempty"`
}

// Skill is what somebody can operate.
type Skill struct {
	Instrument int64      `json:"instrument,omitempty"`
	Mount      string     `json:"mount,omitempty"`
	Level      crew.Level `json:"level"`
}

// Limits are what somebody cannot do.
type Limits struct {
	NoLifting      bool `json:"noLifting,omitempty"`
	NoLadder       bool `json:"noLadder,omitempty"`
	MustSit        bool `json:"mustSit,omitempty"`
	NoNightDriving bool `json:"noNightDriving,omitempty"`
}

// Showing is one showing of the line-up; ids are those of the file's kit.
type Showing struct {
	Instrument int64     `json:"instrument"`
	Target     string    `json:"target"`
	Eyepiece   int64     `json:"eyepiece,omitempty"`
	Amplifier  int64     `json:"amplifier,omitempty"`
	Diagonal   int64     `json:"diagonal,omitempty"`
	Filter     int64     `json:"filter,omitempty"`
	From       time.Time `json:"from"`
	Minutes    float64   `json:"minutes" jsonschema:"minimum=0,maximum=1500"`
	Pinned     bool      `json:"pinned,omitempty"`
	Backup     string    `json:"backup,omitempty"`
}

// Pair keeps a target away from an instrument.
type Pair struct {
	Instrument int64  `json:"instrument"`
	Target     string `json:"target"`
}

// Duty is one person's task.
type Duty struct {
	Volunteer  int64     `json:"volunteer"`
	Role       crew.Role `json:"role"`
	Instrument int64     `json:"instrument,omitempty"`
	From       time.Time `json:"from"`
	Minutes    float64   `json:"minutes" jsonschema:"minimum=0,maximum=1500"`
	Pinned     bool      `json:"pinned,omitempty"`
}
