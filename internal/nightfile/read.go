package nightfile

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"golang.org/x/text/language"
	"golang.org/x/text/message"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/weather"
)

// Schema is the JSON Schema (2020-12) of the format.
//
//go:embed schema.json
var Schema []byte

// MaxSize is how large a file may be, bytes.
const MaxSize = 4 << 20

var compiled = sync.OnceValues(func() (*jsonschema.Schema, error) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema))
	if err != nil {
		return nil, err
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("night.json", doc); err != nil {
		return nil, err
	}
	return c.Compile("night.json")
})

// Read reads a file. Faults come as fault.Fields inside an Invalid error, each
// named by its path in the file ("/kit/eyepieces/3/focalLength").
func Read(r io.Reader) (night.Plan, error) {
	b, err := io.ReadAll(io.LimitReader(r, MaxSize+1))
	if err != nil {
		return night.Plan{}, err
	}
	if len(b) > MaxSize {
		return night.Plan{}, whole("the night file is larger than %d MB", MaxSize>>20)
	}
	b = bytes.TrimPrefix(b, []byte("\xef\xbb\xbf")) // some editors put a byte order mark
	if err := strict(b); err != nil {
		return night.Plan{}, err
	}
	if err := validate(b); err != nil {
		return night.Plan{}, err
	}
	var f File
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		var bad *json.UnmarshalTypeError
		if errors.As(err, &bad) {
			return night.Plan{}, fault.Fields{{Name: "/" + strings.ReplaceAll(bad.Field, ".", "/"), Message: fmt.Sprintf("%s does not fit here", bad.Value)}}.OrNil()
		}
		return night.Plan{}, whole("the night file cannot be read: %v", err)
	}
	return f.plan()
}

// whole is a fault of the file as such.
func whole(format string, args ...any) error {
	return fault.Fields{{Name: "/", Message: fmt.Sprintf(format, args...)}}.OrNil()
}

// validate checks the bytes against the schema.
func validate(b []byte) error {
	schema, err := compiled()
	if err != nil {
		return fmt.Errorf("compile the schema of night files: %w", err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		return whole("the night file is not JSON: %v", err)
	}
	err = schema.Validate(doc)
	var bad *jsonschema.ValidationError
	if !errors.As(err, &bad) {
		return err
	}
	var faults fault.Fields
	collect(bad, &faults)
	return faults.OrNil()
}

// mostFaults bounds a list of faults: whoever sent another kind of file need
// not read more.
const mostFaults = 200

var printer = message.NewPrinter(language.English)

// collect takes the innermost causes: they name the very place.
func collect(e *jsonschema.ValidationError, out *fault.Fields) {
	if len(*out) >= mostFaults {
		return
	}
	if len(e.Causes) == 0 {
		*out = append(*out, fault.Field{Name: "/" + strings.Join(e.InstanceLocation, "/"), Message: e.ErrorKind.LocalizedString(printer)})
		return
	}
	for _, c := range e.Causes {
		collect(c, out)
	}
}

// plan turns the document into the domain's own types and checks what a schema
// cannot: gear that makes no sense, ids that lead nowhere.
func (f File) plan() (night.Plan, error) {
	var faults fault.Fields
	bad := func(path, format string, args ...any) {
		faults = append(faults, fault.Field{Name: path, Message: fmt.Sprintf(format, args...)})
	}
	date, err := sky.ParseDate(f.Night.Date)
	if err != nil {
		bad("/night/date", "%v", err)
	}
	if _, err := time.LoadLocation(f.Site.Zone); err != nil || f.Site.Zone == "" {
		bad("/site/zone", "the time zone %q is not known", f.Site.Zone)
	}
	p := night.Plan{
		Club: night.Club{Name: f.Club.Name, MinAltitude: f.Club.MinAltitude, Ladders: f.Club.Ladders},
		Site: night.Site{
			ID: 1, Name: f.Site.Name, Place: sky.Place{Lat: f.Site.Latitude, Lon: f.Site.Longitude, Elev: f.Site.Elevation},
			Zone: f.Site.Zone, Brightness: f.Site.Brightness, Ladders: f.Site.Ladders, Ground: f.Site.Ground, Power: f.Site.Power, Notes: f.Site.Notes,
		},
		Night: night.Night{
			ID: 1, Name: f.Night.Name, Date: date, SiteID: 1, PublicFrom: f.Night.PublicFrom.UTC(), Public: minutes(f.Night.PublicMinutes),
			Block: minutes(f.Night.BlockMinutes), Guests: f.Night.Guests, Audience: night.Audience(f.Night.Audience), Seeing: f.Night.Seeing, Notes: f.Night.Notes,
		},
		Kit: f.Kit, Targets: f.Targets, MustShow: f.MustShow, Remark: f.Note,
	}
	for _, h := range f.Site.Horizon {
		p.Site.Horizon = append(p.Site.Horizon, sky.HorizonPoint{Az: h.Azimuth, Alt: h.Altitude})
	}
	numberKit(&p.Kit)
	checkKit(p.Kit, bad)
	f.people(&p)
	f.showings(&p, bad)
	f.own(&p, bad)
	f.field(&p, bad)
	checkIDs(p, bad)
	if f.Weather != nil {
		hours, err := weather.FromEntries(f.Weather.Hours)
		if err != nil {
			bad("/weather/hours", "%v", err)
		}
		p.Weather = weather.Series{Hours: hours, Source: f.Weather.Source, Attribution: f.Weather.Attribution, IssuedAt: f.Weather.IssuedAt, Notes: f.Weather.Notes}
	}
	return p, faults.OrNil()
}

func minutes(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }

func (f File) people(p *night.Plan) {
	for _, v := range f.Volunteers {
		x := crew.Volunteer{
			ID: v.ID, Name: v.Name, Minor: v.Minor, Roles: v.Roles, Languages: v.Languages, DriveMinutes: v.Drive,
			Limits: crew.Limits{NoLifting: v.Limits.NoLifting, NoLadder: v.Limits.NoLadder, MustSit: v.Limits.MustSit, NoNightDriving: v.Limits.NoNightDriving},
		}
		for _, k := range v.Skills {
			x.Skills = append(x.Skills, crew.Skill{InstrumentID: k.Instrument, Mount: k.Mount, Level: k.Level})
		}
		p.Volunteers = append(p.Volunteers, x)
		p.Availability = append(p.Availability, crew.Availability{VolunteerID: v.ID, Answer: v.Answer, From: utc(v.From), To: utc(v.To), DriveMinutes: v.Tonight, Wishes: v.Wishes})
	}
	for i, d := range f.Duties {
		p.Duties = append(p.Duties, crew.Duty{ID: int64(i + 1), VolunteerID: d.Volunteer, Role: d.Role, InstrumentID: d.Instrument, From: d.From.UTC(), Length: minutes(d.Minutes), Pinned: d.Pinned})
	}
}

func (f File) showings(p *night.Plan, bad said) {
	known := idsOf(p.Kit)
	for i, s := range f.Showings {
		known.instrument(fmt.Sprintf("/showings/%d/instrument", i), s.Instrument, bad)
		p.Showings = append(p.Showings, lineup.Showing{
			ID: int64(i + 1), InstrumentID: s.Instrument, TargetID: s.Target, EyepieceID: s.Eyepiece, AmplifierID: s.Amplifier,
			DiagonalID: s.Diagonal, FilterID: s.Filter, From: s.From.UTC(), Length: minutes(s.Minutes), Pinned: s.Pinned, BackupID: s.Backup,
		})
	}
	for i, x := range f.Forbidden {
		known.instrument(fmt.Sprintf("/forbidden/%d/instrument", i), x.Instrument, bad)
		p.Forbidden = append(p.Forbidden, lineup.Pair{InstrumentID: x.Instrument, TargetID: x.Target})
	}
}

// utc keeps a time that is not given as it is.
func utc(t time.Time) time.Time {
	if t.IsZero() {
		return t
	}
	return t.UTC()
}
