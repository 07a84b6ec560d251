package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/sky"
)

const skyUsage = `duskboard sky prints one night as JSON: Sun, Moon and any targets.

  duskboard sky --lat DEG --lon DEG --tz ZONE --date YYYY-MM-DD --json
                [--elev M] [--at RFC3339] [--target NAME]... [--ra DEG --dec DEG]

  --lat, --lon   degrees, north and east positive
  --elev         metres above sea level
  --tz           IANA name of the site's zone, as Europe/Dublin
  --date         the evening's date: the night lasts from its local noon to the next
  --at           instant of the positions, in the night or near it; without it the
                 middle of the dark time
  --target       name, number or designation; may be repeated
  --ra, --dec    a place of its own, J2000, degrees

Right ascension and declination in the answer are apparent, topocentric, of
date; altDeg is geometric, altRefractedDeg as seen. An event that does not
happen is null; "state" then says always-above or always-below.
`

// skyQuery is what the words of the command ask for.
type skyQuery struct {
	place     sky.Place
	zone      *time.Location
	date      sky.Date
	at        time.Time // zero: the middle of the dark time
	names     []string
	own       *sky.Star // --ra and --dec
	printJSON bool
}

// runSky carries out "duskboard sky" and returns the exit code: 2 for anything
// wrong with its words, told in one line.
func runSky(args []string, stdout, stderr io.Writer) int {
	q, err := parseSky(args)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprint(stdout, skyUsage)
		return 0
	}
	if err == nil {
		err = answerSky(q, stdout)
	}
	if err != nil {
		line := strings.Join(strings.Fields(err.Error()), " ")
		fmt.Fprintf(stderr, "duskboard sky: %s\n", line)
		return 2
	}
	return 0
}

func parseSky(args []string) (skyQuery, error) {
	var q skyQuery
	var zone, date, at string
	var own sky.Star
	f := flag.NewFlagSet("sky", flag.ContinueOnError)
	f.SetOutput(io.Discard) // the error is told once, by runSky
	f.Float64Var(&q.place.Lat, "lat", 0, "")
	f.Float64Var(&q.place.Lon, "lon", 0, "")
	f.Float64Var(&q.place.Elev, "elev", 0, "")
	f.StringVar(&zone, "tz", "", "")
	f.StringVar(&date, "date", "", "")
	f.StringVar(&at, "at", "", "")
	f.Float64Var(&own.RA, "ra", 0, "")
	f.Float64Var(&own.Dec, "dec", 0, "")
	f.BoolVar(&q.printJSON, "json", false, "")
	f.Func("target", "", func(name string) error {
		q.names = append(q.names, name)
		return nil
	})
	if err := f.Parse(args); err != nil {
		return q, err
	}
	if f.NArg() > 0 {
		return q, fmt.Errorf("what does %q mean? Every word of the command is a flag; see duskboard sky --help", f.Arg(0))
	}
	given := map[string]bool{}
	f.Visit(func(f *flag.Flag) { given[f.Name] = true })
	for _, name := range []string{"lat", "lon", "tz", "date"} {
		if !given[name] {
			return q, fmt.Errorf("--%s is missing; see duskboard sky --help", name)
		}
	}
	if given["ra"] != given["dec"] {
		return q, errors.New("--ra and --dec go together")
	}
	if given["ra"] {
		if !(own.RA >= 0 && own.RA < 360) {
			return q, fmt.Errorf("right ascension %g is not from 0 to under 360 degrees", own.RA)
		}
		if !(own.Dec >= -90 && own.Dec <= 90) {
			return q, fmt.Errorf("declination %g is not between -90 and 90 degrees", own.Dec)
		}
		q.own = &own
	}
	var err error
	if q.date, err = sky.ParseDate(date); err != nil {
		return q, err
	}
	if q.zone, err = loadZone(zone); err != nil {
		return q, err
	}
	if at != "" {
		if q.at, err = time.Parse(time.RFC3339, at); err != nil {
			return q, fmt.Errorf("--at %q is no instant of the form 2027-02-14T03:00:00Z", at)
		}
	}
	return q, nil
}

func answerSky(q skyQuery, stdout io.Writer) error {
	n, err := sky.NewNight(q.place, q.date, q.zone)
	if err != nil {
		return err
	}
	targets, err := findTargets(q.names)
	if err != nil {
		return err
	}
	if q.own != nil {
		targets = append(targets, catalog.Target{
			ID:   "place",
			Name: fmt.Sprintf("RA %g Dec %g", q.own.RA, q.own.Dec),
			Star: *q.own, Magnitude: nan,
		})
	}
	at := q.at
	if at.IsZero() {
		at = middleOfDark(n)
	}
	if d := at.Sub(n.Middle()).Abs(); d > 48*time.Hour {
		return fmt.Errorf("--at %s is far from the night of %s", at.UTC().Format(time.RFC3339), q.date)
	}
	a := newSkyAnswer(n, at, targets)
	if !q.printJSON {
		return a.print(stdout)
	}
	e := json.NewEncoder(stdout)
	e.SetIndent("", "  ")
	return e.Encode(a)
}

// middleOfDark is halfway through the darkest stretch that the night has: of
// astronomical darkness, or else of the deepest twilight that is reached. With
// the Sun up, or deep down, all night it is the middle of the night.
func middleOfDark(n *sky.Night) time.Time {
	t := n.Twilights()
	for _, pair := range [][2]sky.Event{
		{t.AstronomicalDusk, t.AstronomicalDawn}, {t.NauticalDusk, t.NauticalDawn},
		{t.CivilDusk, t.CivilDawn}, {t.Sunset, t.Sunrise},
	} {
		dusk, dawn := pair[0], pair[1]
		if dusk.State == sky.AlwaysAbove {
			continue // it does not get that dark
		}
		from, to := n.From, n.To // dark from the beginning, to the end
		if dusk.State == sky.Happens {
			from = dusk.Time
		}
		if dawn.State == sky.Happens {
			to = dawn.Time
		}
		if from.Before(to) {
			return from.Add(to.Sub(from) / 2)
		}
	}
	return n.Middle()
}
