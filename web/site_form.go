package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"unicode/utf8"

	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// siteForm is a site as typed.
type siteForm struct {
	Name, Lat, Lon, Elev, Zone string
	Horizon                    string
	Measured, Step             string // darkness: one of the two
	Ground, Notes              string
	Power, Ladders             bool
	Version                    string
}

func readSiteForm(r *http.Request) siteForm {
	v := func(name string) string { return strings.TrimSpace(r.PostFormValue(name)) }
	f := siteForm{
		Name: v("Name"), Lat: v("Lat"), Lon: v("Lon"), Elev: v("Elev"), Zone: v("Zone"),
		Horizon:  strings.ReplaceAll(v("Horizon"), "\r\n", "\n"),
		Measured: v("Measured"), Step: v("Step"), Ground: v("Ground"), Notes: strings.ReplaceAll(v("Notes"), "\r\n", "\n"),
		Power: v("Power") != "", Ladders: v("Ladders") != "", Version: v("Version"),
	}
	f.Lat, f.Lon = splitPair(f.Lat, f.Lon)
	return f
}

func siteFormOf(s night.Site) siteForm {
	return siteForm{
		Name: s.Name, Lat: latitude.print(s.Place.Lat, 6), Lon: longitude.print(s.Place.Lon, 6), Elev: number(s.Place.Elev, 1),
		Zone: s.Zone, Horizon: printHorizon(s.Horizon), Measured: number(s.Brightness, 2),
		Ground: s.Ground, Notes: s.Notes, Power: s.Power, Ladders: s.Ladders, Version: strconv.FormatInt(s.Version, 10),
	}
}

// darkness is the nine-step scale of J. E. Bortle (Sky & Telescope 101(2),
// February 2001, 126), turned into the sky at the zenith in mag per square
// arcsecond. Published bands for a step differ by up to 0.5 mag; these are
// values from the middle of them, and serve only until somebody measures.
var darkness = []struct {
	mu   float64
	word string
}{
	{21.9, "1: as dark as a sky can be"},
	{21.6, "2: dark, far from any town"},
	{21.4, "3: country"},
	{20.9, "4: country, domes of light in places"},
	{19.8, "5: edge of a town"},
	{18.8, "6: bright suburb"},
	{18.3, "7: between suburb and city"},
	{17.8, "8: city"},
	{17.0, "9: centre of a city"},
}

// stepOf is the step of the scale nearest to a brightness.
func stepOf(mu float64) int {
	best := 0
	for i, d := range darkness {
		if abs(d.mu-mu) < abs(darkness[best].mu-mu) {
			best = i
		}
	}
	return best + 1
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

// parse puts what was typed over s. An empty zone is guessed from the
// coordinates; guess returns "" when it cannot.
func (f siteForm) parse(s night.Site, guess func(lat, lon float64) string) (night.Site, fault.Fields) {
	var faults fault.Fields
	add := func(name string, err error) {
		if err != nil {
			faults = append(faults, fault.Field{Name: name, Message: first(err.Error()) + "."})
		}
	}
	var err error
	s.Name = f.Name
	add("Name", nameFault(f.Name, "the site"))
	s.Place.Lat, err = latitude.parse(f.Lat)
	add("Lat", err)
	s.Place.Lon, err = longitude.parse(f.Lon)
	add("Lon", err)
	placed := len(faults.For("Lat")+faults.For("Lon")) == 0
	s.Place.Elev = 0
	if f.Elev != "" {
		s.Place.Elev, err = parseElevation(f.Elev)
		add("Elev", err)
	}

	s.Zone = f.Zone
	if s.Zone == "" && placed {
		s.Zone = guess(s.Place.Lat, s.Place.Lon)
	}
	if s.Zone != "" || placed {
		add("Zone", checkZone(s.Zone))
	}
	s.Horizon, err = parseHorizon(f.Horizon)
	add("Horizon", err)
	name, mu, err := f.brightness()
	s.Brightness = mu
	add(name, err)
	if utf8.RuneCountInString(f.Ground) > 200 {
		add("Ground", fmt.Errorf("at most 200 letters"))
	}
	if utf8.RuneCountInString(f.Notes) > 4000 {
		add("Notes", fmt.Errorf("at most 4000 letters"))
	}
	s.Ground, s.Notes, s.Power, s.Ladders = f.Ground, f.Notes, f.Power, f.Ladders
	return s, faults
}

// brightness is what was measured, else the middle of the step chosen; name is
// the field to blame.
func (f siteForm) brightness() (name string, mu float64, err error) {
	if f.Measured != "" {
		mu, err = kit.ParseNumber(f.Measured)
		if err != nil || mu < 14 || mu > 22.3 {
			return "Measured", 0, fmt.Errorf("14 to 22.3 magnitudes per square arcsecond")
		}
		return "Measured", mu, nil
	}
	step, err := strconv.Atoi(f.Step)
	if err != nil || step < 1 || step > len(darkness) {
		return "Step", 0, fmt.Errorf("choose a step from 1 to 9, or type what was measured")
	}
	return "Step", darkness[step-1].mu, nil
}

// nameFault wants a name of 1 to 80 letters.
func nameFault(name, what string) error {
	switch n := utf8.RuneCountInString(name); {
	case n == 0:
		return fmt.Errorf("give %s a name", what)
	case n > 80:
		return fmt.Errorf("at most 80 letters")
	}
	return nil
}

var siteLabels = map[string]string{
	"Name": "Name", "Lat": "Latitude", "Lon": "Longitude", "Elev": "Elevation", "Zone": "Time zone", "Horizon": "Outline of the horizon",
	"Measured": "Measured brightness", "Step": "Step of the scale", "Ground": "Ground", "Notes": "Notes",
}

// view is the form as typed, with its faults.
func (f siteForm) view(faults fault.Fields) views.SiteForm {
	m := views.SiteForm{
		Version: f.Version, Faults: labelled(faults, siteLabels), Zones: zoneNames(),
		Name:    views.Field{Name: "Name", Label: "Name", Value: f.Name, Error: faults.For("Name"), Required: true, Width: "mid"},
		Lat:     views.Field{Name: "Lat", Label: "Latitude", Value: f.Lat, Error: faults.For("Lat"), Hint: "52.5163 N, -33.9 or 52° 30′ 59″ N. A pair copied from a map may go here as a whole.", Required: true, Width: "mid"},
		Lon:     views.Field{Name: "Lon", Label: "Longitude", Value: f.Lon, Error: faults.For("Lon"), Hint: "East is positive: 13.3777 E or -70.4.", Width: "mid", Required: true},
		Elev:    views.Field{Name: "Elev", Label: "Elevation above the sea", Unit: "m", Value: f.Elev, Error: faults.For("Elev"), Hint: "Empty is sea level.", Width: "short", Mode: "decimal"},
		Zone:    zoneField(f.Zone, faults.For("Zone"), ""),
		Horizon: views.Field{Name: "Horizon", Label: "Outline of the horizon", Value: f.Horizon, Error: faults.For("Horizon"), Hint: "One point a line: azimuth from north through east (or N, NE, E …), then altitude, in degrees. Empty is a flat horizon.", Rows: 8, Placeholder: "N 5\n90 12\nSE 25\n180 8"},
		Measured: views.Field{Name: "Measured", Label: "Measured", Unit: "mag per square arcsecond", Value: f.Measured, Error: faults.For("Measured"), Mode: "decimal", Width: "mid",
			Hint: "At the zenith, on a night without Moon. Goes before the step."},
		Step:   views.Choice{Name: "Step", Label: "Or by the nine-step scale", Value: f.Step, Error: faults.For("Step"), Width: "mid", Options: []views.Option{{Value: "", Text: "Choose a step"}}},
		Ground: views.Field{Name: "Ground", Label: "Ground and paths", Value: f.Ground, Error: faults.For("Ground"), Hint: "Grass, level, gravel path to the gate: decides wheels, ladders and tripods.", Width: ""},
		Power:  views.Check{Name: "Power", Label: "Mains power at hand", Checked: f.Power},
		Ladders: views.Check{Name: "Ladders", Label: "Ladders for guests are allowed here", Checked: f.Ladders,
			Hint: "Ask whoever owns the ground; their rules come first."},
		Notes: views.Field{Name: "Notes", Label: "Notes", Value: f.Notes, Error: faults.For("Notes"), Hint: "Who switches the lamps off, where cars leave, when the sprinklers start.", Rows: 4},
	}
	for i, d := range darkness {
		m.Step.Options = append(m.Step.Options, views.Option{Value: strconv.Itoa(i + 1), Text: d.word})
	}
	h, _ := parseHorizon(f.Horizon) // what can be read is drawn
	m.Drawing = drawHorizon(h)
	return m
}

func zoneField(value, message, hint string) views.Field {
	if hint == "" {
		hint = "Left empty, it is found from the coordinates."
	}
	return views.Field{Name: "Zone", Label: "Time zone", Value: value, Error: message, Hint: hint, List: "zones", Width: "mid"}
}

// labelled turns faults into the lines above a form.
func labelled(faults fault.Fields, labels map[string]string) []views.FieldError {
	var out []views.FieldError
	for _, f := range faults {
		label := labels[f.Name]
		if label == "" {
			label = f.Name
		}
		out = append(out, views.FieldError{Name: f.Name, Label: label, Message: f.Message})
	}
	return out
}
