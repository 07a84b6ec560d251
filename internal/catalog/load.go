package catalog

import (
	"fmt"
	"math"
	"strings"

	"duskboard/internal/sky"
)

// Where the numbers of a row come from. Each names the field it speaks of.
const (
	sourceDeepSky  = "place: d3-celestial 0.7.35 (public catalogues); magnitude, size, angle, distance: from memory of common handbooks, rounded"
	sourceByHand   = "place, magnitude, size, angle, distance: from memory of common handbooks, rounded"
	sourceDouble   = "place: Hipparcos by d3-celestial 0.7.35; separation, angle, magnitudes, colours, distance: from memory of common double-star lists, rounded"
	sourceOrbit    = "place: Hipparcos by d3-celestial 0.7.35; separation and angle: computed for the year from the published orbit (testdata/orbits.csv, elements from memory); the rest from memory"
	sourceVariable = "place and B-V: Hipparcos by d3-celestial 0.7.35; range, period, colour, distance: from memory of common handbooks, rounded"
	sourceAsterism = "place, size, brightest star: from memory, rounded; the rest common practice"
	sourceBody     = "place and brightness: computed by package sky"
)

var kindCodes = map[string]Kind{
	"open": KindOpen, "globular": KindGlobular, "nebula": KindNebula, "planetary": KindPlanetary,
	"remnant": KindRemnant, "galaxy": KindGalaxy, "dark": KindDark, "cloud": KindCloud,
	"asterism": KindAsterism, "double": KindDouble, "carbon": KindCarbon, "variable": KindVariable, "star": KindStar, "other": KindOther,
}

// load reads all tables, in the order in which All gives them: the moving ones,
// Messier, Caldwell, further deep sky, doubles, coloured stars, patterns.
func load() ([]Target, error) {
	targets := bodies()
	places, err := readPlaces("places.psv", "key")
	if err != nil {
		return nil, err
	}
	stars, err := readPlaces("starplaces.psv", "id")
	if err != nil {
		return nil, err
	}

	for _, step := range []struct {
		table string
		read  func(r row) Target
	}{
		{"messier.psv", func(r row) Target { return deepSky(r, "M", places) }},
		{"caldwell.psv", func(r row) Target { return deepSky(r, "C", places) }},
		{"more.psv", func(r row) Target { return deepSky(r, "", places) }},
		{"doubles.psv", func(r row) Target { return doubleStar(r, stars) }},
		{"variables.psv", func(r row) Target { return colouredStar(r, stars) }},
		{"asterisms.psv", asterism},
	} {
		rows, fault, err := readTable(step.table)
		if err != nil {
			return nil, err
		}
		for _, r := range rows {
			targets = append(targets, step.read(r))
		}
		if *fault != nil {
			return nil, *fault
		}
	}
	return targets, nil
}

// readPlaces reads a derived table of places by its key column.
func readPlaces(table, key string) (map[string]row, error) {
	rows, _, err := readTable(table)
	if err != nil {
		return nil, err
	}
	byKey := make(map[string]row, len(rows))
	for _, r := range rows {
		byKey[r.text(key)] = r
	}
	return byKey, nil
}

func bodies() []Target {
	body := func(b sky.Body, id, name string, k Kind, delight float64, show bool) Target {
		return Target{
			ID: id, Name: name, Kind: k, Body: b, Moves: true, Delight: delight, Showpiece: show,
			Magnitude: math.NaN(), BV: math.NaN(), PositionAngle: math.NaN(), Brightness: math.NaN(),
			Reach: ReachTelescope, Source: sourceBody,
		}
	}
	// Delight of the planets: common practice; Mars only near opposition is more.
	return []Target{
		body(sky.Sun, "sun", "Sun", KindSun, delightOf(KindSun, 0), false),
		body(sky.Moon, "moon", "Moon", KindMoon, delightOf(KindMoon, 0), true),
		body(sky.Mercury, "mercury", "Mercury", KindPlanet, 0.4, false),
		body(sky.Venus, "venus", "Venus", KindPlanet, 0.65, true),
		body(sky.Mars, "mars", "Mars", KindPlanet, 0.6, true),
		body(sky.Jupiter, "jupiter", "Jupiter", KindPlanet, 0.95, true),
		body(sky.Saturn, "saturn", "Saturn", KindPlanet, 1, true),
		body(sky.Uranus, "uranus", "Uranus", KindPlanet, 0.35, false),
		body(sky.Neptune, "neptune", "Neptune", KindPlanet, 0.25, false),
	}
}

// common fills what every fixed row has.
func common(r row, k Kind, magnitude float64) Target {
	t := Target{
		Name: r.text("name"), Kind: k, Constellation: r.text("con"),
		Magnitude: magnitude, BV: math.NaN(), PositionAngle: math.NaN(), Brightness: math.NaN(),
		LightYears: r.number("ly", 0), DistanceError: r.number("err", 0),
		Showpiece: r.text("show") == "*",
		Reach:     ReachTelescope,
	}
	t.Delight = r.number("delight", delightOf(k, magnitude))
	return t
}

// deepSky reads a row of messier.psv, caldwell.psv or more.psv; letter is "M",
// "C" or none.
func deepSky(r row, letter string, places map[string]row) Target {
	kind, known := kindCodes[r.text("kind")]
	if !known {
		r.fail("unknown kind %q", r.text("kind"))
	}
	t := common(r, kind, r.number("mag", math.NaN()))
	t.MajorAxis, t.MinorAxis = r.number("major", 0), r.number("minor", 0)
	t.PositionAngle = r.number("pa", math.NaN())

	key, by, placed := strings.Cut(r.text("key"), "@")
	switch {
	case placed:
		if _, err := fmt.Sscanf(by, "%g %g", &t.Star.RA, &t.Star.Dec); err != nil {
			r.fail("place %q is not two numbers", by)
		}
		t.Source = sourceByHand
	case key == "": // M 40, a pair of stars that no catalogue of nebulae has
		t.Star = winnecke4
		t.Double = &Double{Separation: 53, PositionAngle: 79, MagA: 9.6, MagB: 10.1, Colours: "yellow and yellow", Year: 2015, Count: 2, Optical: true}
		t.Source = sourceByHand
	default:
		p, found := places[key]
		if !found {
			r.fail("no place for %q", key)
			return t
		}
		t.Star = sky.Star{RA: p.number("ra", 0), Dec: p.number("dec", 0)}
		t.Source = sourceDeepSky
	}

	if n := r.text("number"); n != "" {
		t.Designations = append(t.Designations, letter+" "+n)
	}
	if key != "" && key[0] != 'C' || strings.HasPrefix(key, "Cr") {
		t.Designations = append(t.Designations, key)
	}
	t.Designations = append(t.Designations, r.list("also")...)
	t.ID = compact(t.Designations[0])
	if letter == "C" && key[0] != 'C' {
		t.ID = compact(key) // "ngc869": what the operator types; "c14" is found as well
	}
	if t.Name == "" {
		t.Name = t.Designations[0]
		if letter == "C" {
			t.Name = key // the number that charts carry
		}
	}
	if kind != KindDark && kind != KindDouble && kind != KindAsterism {
		t.Brightness = SurfaceBrightness(t.Magnitude, t.MajorAxis, t.MinorAxis)
	}
	t.Reach = reachOf(t)
	return t
}

// winnecke4 is the place of M 40; from memory.
var winnecke4 = sky.Star{RA: 185.567, Dec: 58.084}

// reachOf is common practice: what is bright or very wide is best without a
// telescope, which would show only a part of it.
func reachOf(t Target) Reach {
	switch {
	case t.MajorAxis >= 300:
		return ReachEye
	case t.MajorAxis >= 90 && t.Kind != KindGalaxy && t.Kind != KindNebula:
		return ReachBinoculars
	}
	return ReachTelescope
}

// starPlace fills what the star data know of a row.
func starPlace(t *Target, r row, stars map[string]row) {
	t.ID = r.text("id")
	p, found := stars[t.ID]
	if !found {
		r.fail("no place for star %q", t.ID)
		return
	}
	t.Star = sky.Star{RA: p.number("ra", 0), Dec: p.number("dec", 0)}
	t.Star.PMRA, t.Star.PMDec = r.pair("pm")
	t.BV = p.number("bv", math.NaN())
	if s := r.text("star"); s != "" && s[0] != '@' {
		t.Designations = append(t.Designations, s)
	}
	t.Designations = append(t.Designations, "HIP "+p.text("hip"))
}

func doubleStar(r row, stars map[string]row) Target {
	d := Double{
		Separation: r.number("sep", 0), PositionAngle: r.number("pa", 0),
		MagA: r.number("maga", 0), MagB: r.number("magb", 0),
		Colours: r.text("colours"), Year: int(r.number("year", 0)), Count: 2,
	}
	switch r.text("note") {
	case "three":
		d.Count = 3
	case "four":
		d.Count = 4
	case "optical":
		d.Optical = true
	}

	t := common(r, KindDouble, together(d.MagA, d.MagB))
	t.Double = &d
	t.Source = sourceDouble
	if r.text("note") == "orbit" {
		t.Source = sourceOrbit
	}
	if d.Separation >= 180 {
		t.Reach = ReachBinoculars
	}
	starPlace(&t, r, stars)
	return t
}

// together is the magnitude of two stars seen as one.
func together(a, b float64) float64 {
	m := -2.5 * math.Log10(math.Pow(10, -0.4*a)+math.Pow(10, -0.4*b))
	return math.Round(m*100) / 100
}

func colouredStar(r row, stars map[string]row) Target {
	kind, known := kindCodes[r.text("kind")]
	if !known {
		r.fail("unknown kind %q", r.text("kind"))
	}
	v := Variable{Max: r.number("max", 0), Min: r.number("min", 0), Period: r.number("period", 0), Colours: r.text("colours")}
	t := common(r, kind, v.Max)
	t.Variable = &v
	t.Source = sourceVariable
	starPlace(&t, r, stars)
	return t
}

func asterism(r row) Target {
	t := common(r, KindAsterism, r.number("mag", math.NaN()))
	t.ID = r.text("id")
	t.Designations = r.list("also")
	t.Star.RA, t.Star.Dec = r.pair("place")
	t.MajorAxis, t.MinorAxis = r.number("major", 0), r.number("minor", 0)
	t.Reach = Reach(r.text("reach"))
	t.Source = sourceAsterism
	return t
}
