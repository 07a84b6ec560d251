package web

import (
	"fmt"
	"math"
	"net/http"
	"strings"
	"time"

	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// showSky is what the sky of a night holds beyond the targets: the Moon in
// detail, Jupiter's moons, Saturn, meteor showers, eclipses, satellites.
func (s *server) showSky(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	sats, err := s.store.Satellites(r.Context())
	if err != nil {
		return err
	}
	mid := sh.Night.PublicFrom.Add(sh.Night.Public / 2)
	m := views.SkyModel{
		Over: overline(sh), Tabs: nightTabs(id, "sky"), Times: skyTimes(sh), Moon: moonRows(sh, mid), Features: featureTable(sh, mid),
		Planets: planetTable(sh, mid), Jupiter: jupiterTable(sh), JupiterUp: sh.Sky.At(sky.Jupiter, mid).Alt > 0,
		Showers: showerTable(sh), Eclipses: eclipseWords(sh), At: siteClock(sh, mid),
	}
	m.Passes, m.Warnings = passTable(sh, sats)
	m.Spot = spotWords(sh)
	return s.show(w, r, http.StatusOK, views.Head{Title: "Sky · " + sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(sh)}, views.Sky(m))
}

func moonRows(sh *night.Sheet, t time.Time) []views.Row {
	v, p := sh.Sky.Moon(t), sh.Sky.At(sky.Moon, t)
	rows := []views.Row{
		{Label: "Phase", Value: fmt.Sprintf("%s, %.0f %% lit", v.PhaseName, 100*v.Illuminated), Note: fmt.Sprintf("%.1f days after new Moon", v.AgeDays)},
		{Label: "Bright side", Value: v.LitSide, Note: "as seen standing on the field"},
		{Label: "Size", Value: fmt.Sprintf("%.1f′", v.Diameter), Note: fmt.Sprintf("%.0f thousand km away", v.Distance/1000)},
		{Label: "Sunrise line", Value: fmt.Sprintf("colongitude %.1f°", v.Colongitude)},
		{Label: "Libration", Value: fmt.Sprintf("%.1f° %s, %.1f° %s", math.Abs(v.LibrationLon), side(v.LibrationLon, "east", "west"), math.Abs(v.LibrationLat), side(v.LibrationLat, "north", "south")), Note: "which rim is turned towards us"},
	}
	if p.AltRefracted < 0 {
		rows = append(rows, views.Row{Label: "Now", Value: "below the horizon"})
	}
	return rows
}

func side(v float64, plus, minus string) string {
	if v < 0 {
		return minus
	}
	return plus
}

func featureTable(sh *night.Sheet, at time.Time) views.Table {
	t := views.Table{Caption: "Features near the sunrise or sunset line", Columns: []views.Column{{Label: "Feature"}, {Label: "Kind"}, {Label: "Size", Number: true}, {Label: "Sun there", Number: true}, {Label: "For a guest"}}}
	for _, f := range sh.Sky.MoonFeatures(at) {
		mark := ""
		if f.Relief {
			mark = "Long shadows"
		}
		t.Rows = append(t.Rows, []views.Cell{{Text: f.Name, Mark: mark}, {Text: string(f.Kind)}, {Text: fmt.Sprintf("%.0f km", f.Size)}, {Text: fmt.Sprintf("%.1f°", f.SunAltitude)}, {Text: f.Words}})
	}
	return t
}

func planetTable(sh *night.Sheet, at time.Time) views.Table {
	t := views.Table{Caption: "Planets", Columns: []views.Column{{Label: "Planet"}, {Label: "Altitude", Number: true}, {Label: "Brightness", Number: true}, {Label: "Disc", Number: true}, {Label: "Lit", Number: true}, {Label: "From the Sun", Number: true}, {Label: "To note"}}}
	for b := sky.Mercury; b <= sky.Neptune; b++ {
		v, p := sh.Sky.Planet(b, at), sh.Sky.At(b, at)
		note := ""
		if b == sky.Saturn {
			sv := sh.Sky.Saturn(at)
			note = fmt.Sprintf("rings tilted %.0f°; Titan %.1f′ away", math.Abs(v.RingTilt), sv.Titan.Separation/60)
		}
		if v.Elongation < 20 && p.AltRefracted > -5 {
			note = "near the Sun: nothing is pointed there while the Sun is up"
		}
		t.Rows = append(t.Rows, []views.Cell{{Text: b.String()}, {Text: altitudeWord(p)}, {Text: fmt.Sprintf("%.1f mag", v.Magnitude)}, {Text: fmt.Sprintf("%.1f″", v.Diameter)},
			{Text: fmt.Sprintf("%.0f %%", 100*v.Illuminated)}, {Text: fmt.Sprintf("%.0f°", v.Elongation)}, {Text: note}})
	}
	return t
}

// jupiterTable lists what Jupiter's moons do while Jupiter is up and the Sun
// is down.
func jupiterTable(sh *night.Sheet) views.Table {
	t := views.Table{Caption: "Jupiter's moons", Columns: []views.Column{{Label: "Time"}, {Label: "Moon"}, {Label: "What"}, {Label: "Altitude", Number: true}}}
	for _, e := range sh.Sky.JupiterEvents() {
		if !e.Seen || e.Altitude < 5 || sh.Sky.At(sky.Sun, e.Time).Alt > -3 {
			continue
		}
		word := "ends"
		if e.Begin {
			word = "begins"
		}
		t.Rows = append(t.Rows, []views.Cell{{Text: siteClock(sh, e.Time)}, {Text: e.Moon}, {Text: e.Kind.String() + " " + word}, {Text: fmt.Sprintf("%.0f°", e.Altitude)}})
	}
	return t
}

// spotWords tells when the red spot crosses the middle of the disc in the
// dark, if the club noted its longitude.
func spotWords(sh *night.Sheet) string {
	if l := sh.Club.SpotLongitude; math.IsNaN(l) {
		return "Note the red spot's longitude under Settings, and its passages stand here."
	}
	var times []string
	for _, p := range sh.Sky.SpotPassages(sh.Club.SpotLongitude) {
		if p.Altitude > 5 && sh.Sky.At(sky.Sun, p.Time).Alt < -3 {
			times = append(times, siteClock(sh, p.Time))
		}
	}
	if len(times) == 0 {
		return "The red spot does not cross the disc while it could be seen tonight."
	}
	return "The red spot crosses the middle of the disc at " + strings.Join(times, " and ") + "; it shows for 50 minutes before and after."
}

func showerTable(sh *night.Sheet) views.Table {
	t := views.Table{Caption: "Meteor showers", Columns: []views.Column{{Label: "Shower"}, {Label: "Maximum"}, {Label: "Best time"}, {Label: "In an hour", Number: true}}}
	for _, x := range sh.Sky.Showers() {
		if !x.Seen {
			continue
		}
		peak := fmt.Sprintf("%.0f days ago", x.DaysFromMaximum)
		switch {
		case x.MaximumTonight:
			peak = "tonight at " + siteClock(sh, x.Maximum)
		case x.DaysFromMaximum < 0:
			peak = fmt.Sprintf("in %.0f days", -x.DaysFromMaximum)
		}
		rate := "a few"
		if x.Hourly >= 1 {
			rate = fmt.Sprintf("about %.0f", x.Hourly)
		}
		t.Rows = append(t.Rows, []views.Cell{{Text: x.Name}, {Text: peak}, {Text: siteClock(sh, x.Best)}, {Text: rate, Note: "under a very dark sky"}})
	}
	return t
}

func eclipseWords(sh *night.Sheet) []string {
	var out []string
	for _, e := range sh.Sky.Eclipses() {
		if !e.Visible {
			continue
		}
		var parts []string
		for _, c := range e.Contacts {
			parts = append(parts, fmt.Sprintf("%s %s (%.0f° high)", c.Name, siteClock(sh, c.Time), c.Altitude))
		}
		words := fmt.Sprintf("%s eclipse of the %s, greatest at %s: %s.", capital(string(e.Kind)), e.Body, siteClock(sh, e.Greatest.Time), strings.Join(parts, ", "))
		if e.Caution != "" {
			words += " " + e.Caution
		}
		out = append(out, words)
	}
	return out
}

// lowestPass is the altitude, in degrees, that a pass must reach to be listed.
const lowestPass = 15

func passTable(sh *night.Sheet, sats []night.Satellite) (views.Table, []string) {
	t := views.Table{Caption: "Satellites", Columns: []views.Column{{Label: "Satellite"}, {Label: "Seen"}, {Label: "From"}, {Label: "Highest", Number: true}, {Label: "To"}, {Label: "Brightness"}}}
	var warnings []string
	for _, x := range sats {
		parsed, err := sky.ParseTLE(x.Elements)
		if err != nil || len(parsed) != 1 {
			warnings = append(warnings, x.Name+": the kept elements can no longer be read; paste them again.")
			continue
		}
		passes, err := sh.Sky.Passes(parsed[0], lowestPass)
		if err != nil {
			warnings = append(warnings, err.Error())
			continue
		}
		if passes.Warning != "" {
			warnings = append(warnings, x.Name+": "+passes.Warning+".")
		}
		for _, p := range passes.List {
			if !p.Visible {
				continue
			}
			end := directionWord(p.To.Azimuth)
			if p.ShadowEntry != nil {
				end += ", fades into the Earth's shadow"
			}
			note := ""
			if p.Assumed {
				note = "a guess: its size is not known"
			}
			t.Rows = append(t.Rows, []views.Cell{{Text: x.Name}, {Text: siteClock(sh, p.From.Time) + " to " + siteClock(sh, p.To.Time)}, {Text: directionWord(p.From.Azimuth)},
				{Text: fmt.Sprintf("%.0f°", p.Culmination.Altitude)}, {Text: end}, {Text: p.Class, Note: note}})
		}
	}
	return t, warnings
}
