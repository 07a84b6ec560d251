package sky_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"duskboard/internal/sky"
)

// Lines as the Minor Planet Center publishes them.
const (
	ceresLine     = "00001    3.4   0.15 K205V 162.68631   73.73161   80.28698   10.58862  0.0775571  0.21406009   2.7676569  0 MPO492748  6751 115 1801-2019 0.60 M-v 30h Williams   0000      (1) Ceres              20190915"
	haleBoppLine  = "    CJ95O010  1997 03 29.6333  0.916241  0.994928  130.6448  283.3593   88.9908  20200224  -2.0  4.0  C/1995 O1 (Hale-Bopp)                                    MPC106342"
	panstarrsLine = "    CK15A020  2015 08  1.8353  5.341055  1.000000  208.8369  258.5042  109.1696            10.5  4.0  C/2015 A2 (PANSTARRS)                                    MPC 93587"
)

func TestParseMPCReadsEveryField(t *testing.T) {
	orbits, err := sky.ParseMPC("\n" + haleBoppLine + "\r\n\n" + ceresLine + "\n")
	if err != nil {
		t.Fatal(err)
	}
	if len(orbits) != 2 {
		t.Fatalf("%d orbits", len(orbits))
	}
	// 1997 March 29.6333 is JD 2450537.1333; 2020 February 24 is 2458903.5.
	want := sky.Orbit{Designation: "C/1995 O1 (Hale-Bopp)", Comet: true, Perihelion: 2450537.1333, Epoch: 2458903.5,
		Q: 0.916241, E: 0.994928, Peri: 130.6448, Node: 283.3593, Incl: 88.9908, H: -2, Slope: 4}
	got := orbits[0]
	near(t, "perihelion", got.Perihelion, want.Perihelion, 1e-6)
	got.Perihelion = want.Perihelion
	if got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	ceres := orbits[1]
	// K205V is 2020 May 31.0: JD 2459000.5.
	if ceres.Comet || ceres.Epoch != 2459000.5 || ceres.H != 3.4 || ceres.Slope != 0.15 || ceres.E != 0.0775571 {
		t.Errorf("%+v", ceres)
	}
	near(t, "perihelion distance", ceres.Q, 2.7676569*(1-0.0775571), 1e-9)
	// 162.68631 degrees at 0.21406009 a day: 760.00 days after the perihelion.
	near(t, "perihelion", ceres.Perihelion, 2459000.5-162.68631/0.21406009, 0.01)
}

func TestParseMPCNamesColumnAndReason(t *testing.T) {
	replace := func(line, old, new string) string {
		if !strings.Contains(line, old) {
			t.Fatalf("%q is not in the line", old)
		}
		return strings.Replace(line, old, new, 1)
	}
	for name, c := range map[string]struct {
		text         string
		line, column int
		reason       string
	}{
		"empty":                   {"", 1, 0, "nothing was pasted"},
		"neither format":          {"C/1995 O1 q=0.9", 1, 0, "neither"},
		"second line":             {haleBoppLine + "\nrubbish", 2, 0, "neither"},
		"tab":                     {replace(haleBoppLine, "0.916241  0.99", "0.916241\t0.99"), 1, 40, "tab"},
		"letter for a digit":      {replace(haleBoppLine, "0.994928", "0.99492O"), 1, 42, "not a number"},
		"exponent":                {replace(haleBoppLine, "0.994928", "0.9949e1"), 1, 42, "not a number"},
		"thirteenth month":        {replace(haleBoppLine, "1997 03", "1997 13"), 1, 20, "not between 1 and 12"},
		"30 February":             {replace(haleBoppLine, "1997 03 29", "1997 02 30"), 1, 23, "no day 30"},
		"inclination over 180":    {replace(haleBoppLine, " 88.9908", "188.9908"), 1, 72, "not between 0 and 180"},
		"shifted by one":          {" " + haleBoppLine, 1, 0, ""},
		"missing perihelion":      {replace(haleBoppLine, " 0.916241", "         "), 1, 31, "missing"},
		"unknown type":            {replace(haleBoppLine, "    CJ95", "    QJ95"), 1, 5, "not one of"},
		"no name":                 {strings.TrimRight(haleBoppLine[:102], " "), 1, 103, "missing"},
		"packed month":            {replace(ceresLine, "K205V", "K20DV"), 1, 24, "month"},
		"packed day":              {replace(ceresLine, "K205V", "K205W"), 1, 25, "day"},
		"31 June":                 {replace(ceresLine, "K205V", "K206V"), 1, 25, "no day 31"},
		"packed century":          {replace(ceresLine, "K205V", "2020V"), 1, 21, "packed date"},
		"hyperbolic minor planet": {replace(ceresLine, "0.0775571", "1.0775571"), 1, 71, "not between 0 and"},
		"motion against axis":     {replace(ceresLine, "0.21406009", "0.31406009"), 1, 81, "does not go with"},
		"minor planet shifted":    {" " + ceresLine, 1, 0, ""},
		"cut off":                 {ceresLine[:95], 1, 81, "does not go with"},
	} {
		orbits, err := sky.ParseMPC(c.text)
		var faults sky.Faults
		if !errors.As(err, &faults) || orbits != nil {
			t.Errorf("%s: %v, %v", name, orbits, err)
			continue
		}
		found := false
		for _, f := range faults {
			if f.Line == c.line && (c.column == 0 || f.Column == c.column) && strings.Contains(f.Reason, c.reason) {
				found = true
			}
		}
		if !found {
			t.Errorf("%s: want line %d, column %d, %q; got:\n%v", name, c.line, c.column, c.reason, err)
		}
	}
}

// Every fault of a line is told at once, and the good lines beside it do not
// come through alone.
func TestParseMPCTellsAllFaults(t *testing.T) {
	bad := strings.Replace(strings.Replace(haleBoppLine, "1997 03", "1997 33", 1), "0.994928", "x.994928", 1)
	_, err := sky.ParseMPC(ceresLine + "\n" + bad)
	var faults sky.Faults
	if !errors.As(err, &faults) || len(faults) != 2 {
		t.Fatalf("%v", err)
	}
	if got, want := faults[0].String(), "line 2, column 20, month of perihelion: 33 is not between 1 and 12"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func FuzzParseMPC(f *testing.F) {
	for _, line := range []string{ceresLine, haleBoppLine, panstarrsLine, "", "\t", ceresLine[:100], haleBoppLine + "\n" + ceresLine, strings.Repeat("9", 200)} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, text string) {
		orbits, err := sky.ParseMPC(text)
		if (err == nil) == (len(orbits) == 0) {
			t.Fatalf("%d orbits and %v", len(orbits), err)
		}
		for _, o := range orbits {
			for _, v := range []float64{o.Perihelion, o.Q, o.E, o.Peri, o.Node, o.Incl, o.Slope} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%+v", o)
				}
			}
			if !(o.Q > 0) || !(o.E >= 0) || o.Designation == "" {
				t.Fatalf("%+v", o)
			}
		}
		var faults sky.Faults
		if errors.As(err, &faults) {
			for _, fault := range faults {
				if fault.Line < 1 || fault.Reason == "" {
					t.Fatalf("%+v", fault)
				}
			}
		}
	})
}
