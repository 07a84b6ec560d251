package catalog_test

import (
	"math"
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"duskboard/internal/catalog"
	"duskboard/internal/sky"
)

// The counts are those of the project's issue: all Messier, all Caldwell, 150
// further deep-sky objects, 120 doubles, 25 carbon and variable stars, 30
// patterns.
func TestCounts(t *testing.T) {
	numbers := map[string]map[string]int{"M ": {}, "C ": {}}
	kinds := map[catalog.Kind]int{}
	further := 0
	for _, target := range catalog.Default().All() {
		kinds[target.Kind]++
		numbered := false
		for _, d := range target.Designations {
			for letter, seen := range numbers {
				if n, found := strings.CutPrefix(d, letter); found {
					seen[n]++
					numbered = true
				}
			}
		}
		if !numbered && !target.Moves && target.Double == nil && target.Variable == nil && target.Kind != catalog.KindAsterism {
			further++
		}
	}

	for letter, want := range map[string]int{"M ": 110, "C ": 109} {
		if len(numbers[letter]) != want {
			t.Errorf("%d numbers of %q, want %d", len(numbers[letter]), letter, want)
		}
		for n, times := range numbers[letter] {
			if times != 1 {
				t.Errorf("%s%s stands %d times", letter, n, times)
			}
		}
	}
	for _, c := range []struct {
		what      string
		got, want int
	}{
		{"further deep-sky objects", further, 150},
		{"double stars", kinds[catalog.KindDouble], 120},
		{"carbon and variable stars", kinds[catalog.KindCarbon] + kinds[catalog.KindVariable], 25},
		{"patterns", kinds[catalog.KindAsterism], 30},
		{"planets", kinds[catalog.KindPlanet], 7},
	} {
		if c.got < c.want {
			t.Errorf("%d %s, want at least %d", c.got, c.what, c.want)
		}
	}
}

var idForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// Every target is complete, in range and findable by its id, name and numbers.
func TestEveryTarget(t *testing.T) {
	c := catalog.Default()
	seen := map[string]bool{}
	for _, target := range c.All() {
		id := target.ID
		if !idForm.MatchString(id) {
			t.Errorf("id %q is not short lower-case words", id)
		}
		if seen[id] {
			t.Errorf("id %q stands twice", id)
		}
		seen[id] = true
		if target.Name == "" || target.Source == "" {
			t.Errorf("%s: name %q, source %q", id, target.Name, target.Source)
		}
		if !(target.Delight > 0 && target.Delight <= 1) {
			t.Errorf("%s: delight %v", id, target.Delight)
		}
		if got, found := c.ByID(id); !found || got.ID != id {
			t.Errorf("ByID(%q) does not find it", id)
		}
		for _, name := range append([]string{target.Name, id}, target.Designations...) {
			if !finds(c, name, id) {
				t.Errorf("Search(%q) does not find %s", name, id)
			}
		}
		if target.Moves {
			continue
		}

		if s := target.Star; !(s.RA >= 0 && s.RA < 360) || !(s.Dec >= -90 && s.Dec <= 90) || s.RA == 0 && s.Dec == 0 {
			t.Errorf("%s: place %v %v", id, s.RA, s.Dec)
		}
		if target.MinorAxis > target.MajorAxis {
			t.Errorf("%s: minor axis %v over major %v", id, target.MinorAxis, target.MajorAxis)
		}
		if pa := target.PositionAngle; pa < 0 || pa >= 180 {
			t.Errorf("%s: position angle of an axis %v, want 0 to 180", id, pa)
		}
		if target.LightYears > 0 != (target.Distance != "") {
			t.Errorf("%s: %v light-years but %q", id, target.LightYears, target.Distance)
		}
		if math.IsNaN(target.Magnitude) && target.Kind != catalog.KindDark {
			t.Errorf("%s: no magnitude", id)
		}
	}
}

func finds(c *catalog.Catalog, query, id string) bool {
	for _, target := range c.Search(query) {
		if target.ID == id {
			return true
		}
	}
	return false
}

// The mean surface brightness of M 31 (3.4 mag, 190 by 60 arcminutes) by hand:
// the ellipse has 3.2233e7 square arcseconds, 2.5 log10 of it is 18.77.
func TestSurfaceBrightness(t *testing.T) {
	if got := catalog.SurfaceBrightness(3.4, 190, 60); math.Abs(got-22.17) > 0.01 {
		t.Errorf("M 31: %.3f, want 22.17", got)
	}
	// A disc of 1 square arcsecond has its own magnitude.
	side := 2 / math.Sqrt(math.Pi) / 60
	if got := catalog.SurfaceBrightness(10, side, side); math.Abs(got-10) > 0.005 {
		t.Errorf("one square arcsecond: %.4f, want 10", got)
	}
	for _, c := range [][3]float64{{10, 0, 5}, {10, 5, 0}, {math.NaN(), 5, 5}, {10, math.NaN(), 5}} {
		if got := catalog.SurfaceBrightness(c[0], c[1], c[2]); !math.IsNaN(got) {
			t.Errorf("SurfaceBrightness(%v) = %v, want NaN", c, got)
		}
	}
	for _, target := range catalog.Default().All() {
		b := target.Brightness
		if want := catalog.SurfaceBrightness(target.Magnitude, target.MajorAxis, target.MinorAxis); !math.IsNaN(b) && b != want {
			t.Errorf("%s: %v, want %v", target.ID, b, want)
		}
		if b < 10 || b > 27 {
			t.Errorf("%s: surface brightness %.1f is out of all experience", target.ID, b)
		}
	}
}

// The licence of the derived data travels inside the program.
func TestNotice(t *testing.T) {
	if n := catalog.Notice(); !strings.Contains(n, "Copyright (c) 2015") || !strings.Contains(n, "binary form") {
		t.Errorf("notice %q", n)
	}
}

func TestObjectOf(t *testing.T) {
	c := catalog.Default()
	jupiter, _ := c.ByID("jupiter")
	if got := catalog.ObjectOf(jupiter); got != sky.Object(sky.Jupiter) {
		t.Errorf("jupiter: %v", got)
	}
	m31, _ := c.ByID("m31")
	if got := catalog.ObjectOf(m31); got != sky.Object(m31.Star) {
		t.Errorf("m31: %v", got)
	}
}

// What the club brings replaces ours by id or comes after it, and the catalogue
// it was added to stays as it was.
func TestWith(t *testing.T) {
	c := catalog.Default()
	before := len(c.All())
	m31, _ := c.ByID("m31")
	m31.Words.Line = "Our neighbour."
	own := catalog.Target{ID: "own-lamp", Name: "Street Lamp", Kind: catalog.KindStar, Own: true, Star: sky.Star{RA: 1, Dec: 2}}
	with := c.With([]catalog.Target{m31, own})

	if n := len(with.All()); n != before+1 {
		t.Errorf("%d targets, want %d", n, before+1)
	}
	if got, _ := with.ByID("m31"); got.Words.Line != "Our neighbour." || got.Words.LookFor == "" {
		t.Errorf("m31: %+v", got.Words)
	}
	if got, found := with.ByID("own-lamp"); !found || got.Words.Line == "" || got.Words.Find == "" {
		t.Errorf("own target: found %v, words %+v", found, got.Words)
	}
	if !finds(with, "street lamp", "own-lamp") {
		t.Error("own target is not found by name")
	}
	if _, found := c.ByID("own-lamp"); found || len(c.All()) != before {
		t.Error("the catalogue itself changed")
	}
}

func TestLookup(t *testing.T) {
	c := catalog.Default()
	for name, want := range map[string]string{
		"m31": "m31", "M 31": "m31", "ngc 869": "ngc869", "Andromeda Galaxy": "m31", "SATURN": "saturn",
		"beta cyg": "albireo", "north america": "ngc7000", "whirlpool": "m51",
	} {
		if got, found := c.Lookup(name); !found || got.ID != want {
			t.Errorf("Lookup(%q): %s %v, want %s", name, got.ID, found, want)
		}
	}
	for _, name := range []string{"", "globular", "nonsense", "ngc 70"} {
		if got, found := c.Lookup(name); found {
			t.Errorf("Lookup(%q): %s, want none", name, got.ID)
		}
	}
}

// In German names and kinds are German, the English ones are found as well,
// and the numbers are the same.
func TestGerman(t *testing.T) {
	c, err := catalog.In("de")
	if err != nil {
		t.Fatal(err)
	}
	for query, want := range map[string]string{
		"Plejaden": "m45", "pleiades": "m45", "Doppelstern Schwan": "albireo", "Kugelsternhaufen Herkules": "m13",
		"grosser wagen": "big-dipper", "Wega": "vega", "m 31": "m31",
	} {
		if found := c.Search(query); len(found) == 0 || found[0].ID != want {
			t.Errorf("Search(%q): want %s first", query, want)
		}
	}
	for i, english := range catalog.Default().All() {
		german := c.All()[i]
		if german.ID != english.ID || german.Star != english.Star || german.MajorAxis != english.MajorAxis {
			t.Errorf("%s: numbers differ between the languages", english.ID)
		}
		if german.Words.Line == english.Words.Line {
			t.Errorf("%s: %q is not translated", english.ID, english.Words.Line)
		}
	}
	m31, _ := c.ByID("m31")
	if want := "rund 2,5 Millionen Lichtjahre"; m31.Distance != want {
		t.Errorf("distance %q, want %q", m31.Distance, want)
	}
}

// A club's language is spoken by its folder alone; what it lacks by hand comes
// from its templates.
func TestSpeaking(t *testing.T) {
	phrases, err := os.ReadFile("words/en/phrases.json")
	if err != nil {
		t.Fatal(err)
	}
	own := strings.Replace(string(phrases), `"code": "en"`, `"code": "club"`, 1)
	l, err := catalog.ReadLanguage(fstest.MapFS{
		"phrases.json": {Data: []byte(own)},
		"targets.json": {Data: []byte(`{"m13": {"name": "Our Ball", "line": "Look at our ball."}}`)},
	})
	if err != nil {
		t.Fatal(err)
	}
	lamp := catalog.Target{ID: "own-lamp", Name: "Lamp", Kind: catalog.KindOther, Own: true, Words: catalog.Words{Line: "A lamp."}}
	c, err := catalog.Default().With([]catalog.Target{lamp}).Speaking(l)
	if err != nil {
		t.Fatal(err)
	}
	if m13, _ := c.ByID("m13"); c.Language() != "club" || m13.Name != "Our Ball" || m13.Words.Line != "Look at our ball." || m13.Words.Find == "" {
		t.Errorf("%s: %+v", c.Language(), m13)
	}
	if got, _ := c.ByID("own-lamp"); got.Words.Line != "A lamp." {
		t.Errorf("own target: %+v", got.Words)
	}
}

func BenchmarkRead(b *testing.B) {
	for b.Loop() {
		l, err := catalog.ReadLanguage(os.DirFS("words/en"))
		if err != nil {
			b.Fatal(err)
		}
		if _, err := catalog.Default().Speaking(l); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSearch(b *testing.B) {
	c := catalog.Default()
	for b.Loop() {
		c.Search("open clusters in auriga")
	}
}
