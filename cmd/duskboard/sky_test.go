package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"
)

// skyJSON is the answer as a stranger would read it: by the names of the
// contract in the design, not by our types.
func skyJSON(t *testing.T, words string, more ...string) map[string]any {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if code := runSky(append(strings.Fields(words), more...), &stdout, &stderr); code != 0 || stderr.Len() > 0 {
		t.Fatalf("duskboard sky %s %q: exit code %d, %s", words, more, code, &stderr)
	}
	var answer map[string]any
	if err := json.Unmarshal(stdout.Bytes(), &answer); err != nil {
		t.Fatalf("%v in %s", err, &stdout)
	}
	return answer
}

func field(t *testing.T, v any, path ...string) any {
	t.Helper()
	for _, p := range path {
		m, ok := v.(map[string]any)
		if !ok {
			t.Fatalf("%v has no %q", v, p)
		}
		if v, ok = m[p]; !ok {
			t.Fatalf("%q is missing in %v", p, m)
		}
	}
	return v
}

func targetsOf(t *testing.T, answer map[string]any) []any {
	t.Helper()
	return field(t, answer, "targets").([]any)
}

const denver = "--lat 40 --lon -105 --tz America/Denver --date 2027-02-13 --json"

// TestSkyAgreesWithReference: every position of testdata/reference that has a
// name in the catalogue, through the command's own words.
func TestSkyAgreesWithReference(t *testing.T) {
	var file struct {
		Cases []struct {
			Name           string
			Lat, Lon, Elev float64
			UTC            time.Time
			Objects        map[string]struct{ RA, Dec, Alt, Az float64 }
		}
	}
	data, err := os.ReadFile("../../testdata/reference/positions.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	names := []string{"Sun", "Moon", "Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune"}
	for _, c := range file.Cases[:20] {
		when := c.UTC.UTC()
		date := when.Add(-12 * time.Hour).Format(time.DateOnly)
		args := []string{"--lat", number{c.Lat, 6}.text(), "--lon", number{c.Lon, 6}.text(), "--elev", number{c.Elev, 1}.text(),
			"--tz", "UTC", "--date", date, "--at", when.Format(time.RFC3339), "--json"}
		for _, n := range names {
			args = append(args, "--target", n)
		}
		for i, x := range targetsOf(t, skyJSON(t, "", args...)) {
			want, target := c.Objects[names[i]], x.(map[string]any)
			limit := 5.0
			if names[i] == "Moon" {
				limit = 15
			}
			for key, value := range map[string]float64{"decDeg": want.Dec, "altDeg": want.Alt} {
				if got := target[key].(float64); math.Abs(got-value)*3600 > limit {
					t.Errorf("%s, %s: %s %.6f, want %.6f", c.Name, names[i], key, got, value)
				}
			}
			ra := math.Remainder(target["raDeg"].(float64)-want.RA, 360) * math.Cos(want.Dec*math.Pi/180)
			az := math.Remainder(target["azDeg"].(float64)-want.Az, 360) * math.Cos(want.Alt*math.Pi/180)
			if math.Abs(ra)*3600 > limit || math.Abs(az)*3600 > limit {
				t.Errorf("%s, %s: right ascension off by %.6f, azimuth by %.6f degrees", c.Name, names[i], ra, az)
			}
		}
	}
}

func (n number) text() string {
	b, _ := n.MarshalJSON()
	return string(b)
}

// TestSkyContract: every name that the contract promises, and null with a state
// where an event does not happen.
func TestSkyContract(t *testing.T) {
	a := skyJSON(t, denver, "--target", "m 31", "--target", "Saturn", "--target", "moon", "--ra", "0", "--dec", "-85")
	for _, path := range [][]string{
		{"night", "from"}, {"night", "to"},
		{"sun", "set"}, {"sun", "rise"}, {"sun", "civilDusk"}, {"sun", "civilDawn"}, {"sun", "nauticalDusk"},
		{"sun", "nauticalDawn"}, {"sun", "astronomicalDusk"}, {"sun", "astronomicalDawn"},
		{"moon", "rise"}, {"moon", "set"}, {"moon", "illuminated"}, {"moon", "ageDays"}, {"moon", "phase"},
	} {
		field(t, a, path...)
	}
	targets := targetsOf(t, a)
	if len(targets) != 4 {
		t.Fatalf("%d targets, want 4", len(targets))
	}
	for _, x := range targets {
		for _, key := range []string{"id", "name", "raDeg", "decDeg", "altDeg", "altRefractedDeg", "azDeg", "rise", "transit", "set", "mag", "illuminated", "constellation"} {
			field(t, x, key)
		}
	}
	if got := field(t, a, "night", "from"); got != "2027-02-13T19:00:00Z" {
		t.Errorf("night from %v, want local noon in UTC", got)
	}
	// Scenario 7 and 5, by an engine of another make: sunset 17:33.
	set, err := time.Parse(time.RFC3339, field(t, a, "sun", "set").(string))
	if want := time.Date(2027, 2, 14, 0, 33, 0, 0, time.UTC); err != nil || set.Sub(want).Abs() > time.Minute {
		t.Errorf("sunset %v, want %v", set, want)
	}
	far := targets[3]
	if field(t, far, "rise") != nil || field(t, far, "set") != nil || field(t, far, "state") != "always-below" || field(t, far, "mag") != nil {
		t.Errorf("declination -85 from 40 north: %v", far)
	}
	if field(t, far, "constellation") != "Oct" {
		t.Errorf("constellation %v, want Oct", field(t, far, "constellation"))
	}
	if field(t, targets[0], "constellation") != "And" || field(t, targets[0], "id") != "m31" {
		t.Errorf("m 31: %v", targets[0])
	}
	if mag := field(t, targets[1], "mag").(float64); mag < 0 || mag > 1.5 {
		t.Errorf("Saturn of magnitude %v", mag)
	}
}

func TestSkyPolarNight(t *testing.T) {
	a := skyJSON(t, "--lat 69.65 --lon 18.96 --tz Europe/Oslo --date 2027-01-10 --json")
	if field(t, a, "sun", "rise") != nil || field(t, a, "sun", "set") != nil || field(t, a, "sun", "state", "horizon") != "always-below" {
		t.Errorf("polar night: %v", a["sun"])
	}
	if field(t, a, "sun", "astronomicalDusk") == nil {
		t.Errorf("it gets dark all the same: %v", a["sun"])
	}
	a = skyJSON(t, "--lat 69.65 --lon 18.96 --tz Europe/Oslo --date 2027-06-21 --json")
	for _, name := range []string{"horizon", "civil", "nautical", "astronomical"} {
		if field(t, a, "sun", "state", name) != "always-above" {
			t.Errorf("midnight sun, %s: %v", name, a["sun"])
		}
	}
	if targets := targetsOf(t, a); len(targets) != 0 {
		t.Errorf("no target was asked for: %v", targets)
	}
}

// TestSkyRefusals: exit code 2, nothing on the standard output, one clear line.
func TestSkyRefusals(t *testing.T) {
	const where = "--lat 40 --lon -105 --tz America/Denver"
	for _, c := range []struct{ words, target, says string }{
		{where + " --date 2027-02-29", "", "does not exist"},
		{where + " --date 13.2.2027", "", "YYYY-MM-DD"},
		{where + " --date 1700-01-01", "", "1900 to 2100"},
		{where, "", "--date is missing"},
		{"--lon -105 --tz UTC --date 2027-02-13", "", "--lat is missing"},
		{"--lat 90.5 --lon 0 --tz UTC --date 2027-02-13", "", "latitude 90.5"},
		{"--lat NaN --lon 0 --tz UTC --date 2027-02-13", "", "latitude NaN"},
		{"--lat north --lon 0 --tz UTC --date 2027-02-13", "", "north"},
		{"--lat 40 --lon 255 --tz UTC --date 2027-02-13", "", "longitude 255"},
		{"--lat 40 --lon 0 --tz Europe/Lodnon --date 2027-02-13", "", "Europe/London"},
		{"--lat 40 --lon 0 --tz denver --date 2027-02-13", "", "America/Denver"},
		{"--lat 40 --lon 0 --tz Local --date 2027-02-13", "", "no time zone"},
		{"--lat 40 --lon 0 --tz ../../etc/passwd --date 2027-02-13", "", "no time zone"},
		{"--lat -13.8 --lon -171.8 --tz Pacific/Apia --date 2011-12-30", "", "skips it"},
		{denver + " --at noon", "", "--at"},
		{denver + " --at 2029-01-01T00:00:00Z", "", "far from the night"},
		{denver + " --ra 10", "", "go together"},
		{denver + " --ra 361 --dec 0", "", "right ascension 361"},
		{denver + " --ra 10 --dec 91", "", "declination 91"},
		{denver + " --frobnicate", "", "frobnicate"},
		{denver + " Jupiter", "", `"Jupiter"`},
		{denver, "Jupitre", "Jupiter"},
		{denver, "m 131", "no target"},
		{denver, "xyzzyq", "no target"},
		{denver, "", ""},
	} {
		args := strings.Fields(c.words)
		if c.target != "" {
			args = append(args, "--target", c.target)
		}
		if c.says == "" {
			args = append(args, "--target", "two\nlines")
			c.says = "no target"
		}
		var stdout, stderr bytes.Buffer
		code := runSky(args, &stdout, &stderr)
		if code != 2 || stdout.Len() > 0 || !strings.Contains(stderr.String(), c.says) || strings.Count(stderr.String(), "\n") != 1 {
			t.Errorf("%q: exit code %d, %q, want 2 and one line that says %q", args, code, stderr.String(), c.says)
		}
	}
}

// TestSkyNames: what people call a target.
func TestSkyNames(t *testing.T) {
	for name, id := range map[string]string{
		"M31": "m31", "m 31": "m31", "andromeda": "m31", "NGC 7000": "ngc7000", "ngc7000": "ngc7000",
		"North America Nebula": "ngc7000", "moon": "moon", "JUPITER": "jupiter", "M 3": "m3",
	} {
		targets := targetsOf(t, skyJSON(t, denver, "--target", name))
		if got := field(t, targets[0], "id"); got != id {
			t.Errorf("%q is %v, want %s", name, got, id)
		}
	}
}

func TestSkyHelpAndTable(t *testing.T) {
	var stdout, stderr bytes.Buffer
	if code := runSky([]string{"--help"}, &stdout, &stderr); code != 0 || !strings.Contains(stdout.String(), "--date") {
		t.Errorf("help: exit code %d, %q", code, &stdout)
	}
	stdout.Reset()
	words := append(slices.DeleteFunc(strings.Fields(denver), func(s string) bool { return s == "--json" }), "--target", "jupiter")
	if code := runSky(words, &stdout, &stderr); code != 0 || !strings.Contains(stdout.String(), "Jupiter") {
		t.Errorf("table: exit code %d, %s%s", code, &stdout, &stderr)
	}
}

// TestSkyMiddleOfDark: halfway between the dusk and the dawn of the darkest
// twilight that is reached, or the middle of the night.
func TestSkyMiddleOfDark(t *testing.T) {
	for _, c := range []struct{ words, dusk, dawn string }{
		{denver, "astronomicalDusk", "astronomicalDawn"},
		{"--lat 60.17 --lon 24.94 --tz Europe/Helsinki --date 2027-05-10 --json", "nauticalDusk", "nauticalDawn"},
		{"--lat 69.65 --lon 18.96 --tz Europe/Oslo --date 2027-06-21 --json", "", ""},
	} {
		a := skyJSON(t, c.words)
		from, to := field(t, a, "night", "from").(string), field(t, a, "night", "to").(string)
		if c.dusk != "" {
			from, to = field(t, a, "sun", c.dusk).(string), field(t, a, "sun", c.dawn).(string)
		}
		f, _ := time.Parse(time.RFC3339, from)
		l, _ := time.Parse(time.RFC3339, to)
		got, err := time.Parse(time.RFC3339, field(t, a, "at").(string))
		if want := f.Add(l.Sub(f) / 2); err != nil || got.Sub(want).Abs() > 2*time.Second {
			t.Errorf("%s: at %v, want %v", c.words, got, want)
		}
	}
}
