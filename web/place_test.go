package web

import (
	"math"
	"strings"
	"testing"

	"duskboard/internal/sky"
)

// TestCoordinates reads coordinates as maps, sky atlases and notebooks write
// them. The values are arithmetic: degrees + minutes/60 + seconds/3600.
func TestCoordinates(t *testing.T) {
	for _, c := range []struct {
		axis axis
		text string
		want float64
	}{
		{latitude, "52.5163", 52.5163},
		{latitude, "52,5163", 52.5163},
		{latitude, "-33.9", -33.9},
		{latitude, "−33.9", -33.9},
		{latitude, "33.9 S", -33.9},
		{latitude, "S 33.9", -33.9},
		{latitude, "33.9s", -33.9},
		{latitude, `52°30'59"N`, 52 + 30/60.0 + 59/3600.0},
		{latitude, "52° 30′ 59″ N", 52 + 30/60.0 + 59/3600.0},
		{latitude, "N 52 30.98", 52 + 30.98/60},
		{latitude, "52:30:59.5 n", 52 + 30/60.0 + 59.5/3600},
		{latitude, `0° 0' 30" S`, -30 / 3600.0},
		{latitude, "-0 30", -0.5},
		{latitude, "90", 90},
		{longitude, "13.3777 E", 13.3777},
		{longitude, "70 24 15 W", -(70 + 24/60.0 + 15/3600.0)},
		{longitude, "-70.4042", -70.4042},
		{longitude, "180", 180},
	} {
		got, err := c.axis.parse(c.text)
		if err != nil || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s %q: got %v, %v; want %v", c.axis.word, c.text, got, err, c.want)
		}
		if back, err := c.axis.parse(c.axis.print(c.want, 8)); err != nil || math.Abs(back-c.want) > 1e-7 {
			t.Errorf("%s %v printed reads back as %v, %v", c.axis.word, c.want, back, err)
		}
	}
	for _, c := range []struct {
		axis axis
		text string
	}{
		{latitude, ""}, {latitude, "north"}, {latitude, "91"}, {latitude, "90 0 1"}, {latitude, "52 60"}, {latitude, "52 30 60"},
		{latitude, "52.5 30"}, {latitude, "1 2 3 4"}, {latitude, "-33.9 S"}, {latitude, "52 E"}, {latitude, "1e9"}, {latitude, "NaN"},
		{longitude, "181"}, {longitude, "13 N"}, {longitude, "180 0 0.1 W"},
	} {
		if got, err := c.axis.parse(c.text); err == nil {
			t.Errorf("%s %q: read as %v, want it refused", c.axis.word, c.text, got)
		}
	}
	if lat, lon := splitPair("52.5163, 13.3777", ""); lat != "52.5163" || lon != "13.3777" {
		t.Errorf("a copied pair became %q and %q", lat, lon)
	}
	if lat, lon := splitPair("52,5163", ""); lat != "52,5163" || lon != "" {
		t.Errorf("a decimal comma was taken for a pair: %q and %q", lat, lon)
	}
}

func FuzzCoordinate(f *testing.F) {
	for _, s := range []string{"52.5163", `52°30'59"N`, "-", "NS", "S S", "°"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if x, err := latitude.parse(s); err == nil && !(math.Abs(x) <= 90) {
			t.Errorf("%q read as %v", s, x)
		}
	})
}

// TestZoneGuess asks for places whose civil time is public knowledge: national
// capitals, and pairs of towns on either side of a border.
func TestZoneGuess(t *testing.T) {
	z := newZoneFinder()
	for _, c := range []struct {
		place    string
		lat, lon float64
		want     string
	}{
		{"Berlin", 52.52, 13.40, "Europe/Berlin"},
		{"Dublin", 53.35, -6.26, "Europe/Dublin"},
		{"Santiago de Chile", -33.45, -70.67, "America/Santiago"},
		{"Sydney", -33.87, 151.21, "Australia/Sydney"},
		{"Kathmandu", 27.71, 85.32, "Asia/Kathmandu"},
		{"Lloydminster, which lies on a border but keeps one time", 53.28, -110.0, "America/Edmonton"},
		{"El Paso", 31.76, -106.49, "America/Denver"},
		{"Lord Howe Island", -31.55, 159.08, "Australia/Lord_Howe"},
		{"Auckland, near the date line", -36.85, 174.76, "Pacific/Auckland"},
	} {
		if got := z.guess(c.lat, c.lon); got != c.want {
			t.Errorf("%s: %q, want %q", c.place, got, c.want)
		}
	}
	for _, name := range zoneNames() {
		if err := checkZone(name); err != nil {
			t.Errorf("the form offers %s, which cannot be loaded: %v", name, err)
		}
	}
	for _, bad := range []string{"", "Local", "Mars/Dome", "../../etc/passwd", "europe"} {
		if checkZone(bad) == nil {
			t.Errorf("zone %q is accepted", bad)
		}
	}
}

func TestHorizonText(t *testing.T) {
	h, err := parseHorizon("0 5\n45,5; 12\n\nSE 22\n 250\t18 \n360, -1")
	if err != nil {
		t.Fatal(err)
	}
	want := sky.Horizon{{Az: 0, Alt: 5}, {Az: 45.5, Alt: 12}, {Az: 135, Alt: 22}, {Az: 250, Alt: 18}, {Az: 0, Alt: -1}}
	if len(h) != len(want) {
		t.Fatalf("%v, want %v", h, want)
	}
	for i := range h {
		if h[i] != want[i] {
			t.Errorf("point %d: %v, want %v", i, h[i], want[i])
		}
	}
	again, err := parseHorizon(printHorizon(h))
	if err != nil || len(again) != len(h) {
		t.Errorf("printed it reads back as %v, %v", again, err)
	}
	_, err = parseHorizon("0 5\nx 12\n90 99\n400 3\n1 2 3")
	if err == nil {
		t.Fatal("nonsense is accepted")
	}
	for _, line := range []string{"line 2", "line 3", "line 4", "line 5"} {
		if !strings.Contains(err.Error(), line) {
			t.Errorf("%q does not name %s", err, line)
		}
	}
	if strings.Contains(err.Error(), "line 1") {
		t.Errorf("%q blames a sound line", err)
	}
}
