package catalog_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"duskboard/internal/catalog"
)

func TestParseCSV(t *testing.T) {
	for name, text := range map[string]string{
		"commas": "name,ra,dec,kind,mag,major,minor,pa,ly,line\n" +
			"Our Lamp,12 00 00,-00 30 00,open cluster,6.5,20,10,45,1500,\"A lamp, far away.\"\n",
		"mark, semicolons, decimal commas, other headings": "\ufeffObject;RA (J2000);DEC;Type;V mag;Size;minor axis;Position Angle;Light-Years;Opening line\r\n" +
			"\r\n" +
			"Our Lamp;180,0;-0,5;Open Cluster;6,5;20;10;45;1500;A lamp, far away.\r\n;;;;;;;;;\r\n",
		"tabs": "name\tra\tdec\tkind\tmag\tmajor\tminor\tpa\tly\tline\n" +
			"Our Lamp\t12h\t-0°30'\topen\t6.5\t20\t10\t45\t1500\tA lamp, far away.\n",
	} {
		got, err := catalog.ParseCSV(strings.NewReader(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(got) != 1 {
			t.Errorf("%s: %d targets", name, len(got))
			continue
		}
		o := got[0]
		if o.ID != "own-our-lamp" || o.Name != "Our Lamp" || o.Kind != catalog.KindOpen || !o.Own || o.Moves {
			t.Errorf("%s: %+v", name, o)
		}
		if math.Abs(o.Star.RA-180) > 1e-9 || math.Abs(o.Star.Dec+0.5) > 1e-9 || o.Constellation != "Vir" {
			t.Errorf("%s: place %v %s", name, o.Star, o.Constellation)
		}
		if o.Magnitude != 6.5 || o.MajorAxis != 20 || o.MinorAxis != 10 || o.PositionAngle != 45 || o.LightYears != 1500 {
			t.Errorf("%s: numbers %+v", name, o)
		}
		if o.Words.Line != "A lamp, far away." {
			t.Errorf("%s: line %q", name, o.Words.Line)
		}
		if math.Abs(o.Brightness-catalog.SurfaceBrightness(6.5, 20, 10)) > 1e-12 {
			t.Errorf("%s: brightness %v", name, o.Brightness)
		}
	}
}

// Only what is needed: the rest is unknown, not zero.
func TestParseCSVLeastColumns(t *testing.T) {
	got, err := catalog.ParseCSV(strings.NewReader("name,ra,dec\nBeobachtung Süd,10,20\n夜,11,21\n"))
	if err != nil {
		t.Fatal(err)
	}
	if got[0].ID != "own-beobachtung-sud" || got[0].Kind != catalog.KindOther || got[0].Constellation != "Psc" {
		t.Errorf("%+v", got[0])
	}
	if !math.IsNaN(got[0].Magnitude) || !math.IsNaN(got[0].Brightness) || !math.IsNaN(got[0].PositionAngle) {
		t.Errorf("unknown numbers are not NaN: %+v", got[0])
	}
	if id := got[1].ID; id == "" || id == "own-" {
		t.Errorf("id of a name in another script is %q", id)
	}
}

// Every fault is named with line, column and reason, and nothing is returned.
func TestParseCSVFaults(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"empty", "", []string{"line 1: the table is empty"}},
		{"only a heading", "name,ra,dec\n", []string{"line 1: there is a heading but no target"}},
		{"columns missing", "name,ra\nx,1\n", []string{`line 1: column "dec" is missing`}},
		{"column unknown", "name,ra,dec,magnitde\nx,1,2,3\n", []string{`line 1, column 4: column "magnitde" is not known; did you mean "mag"?`}},
		{"column twice", "name,ra,dec,RA\nx,1,2,3\n", []string{`line 1, column 4 (ra): column "ra" stands twice`}},
		{"rows", strings.Join([]string{
			"name,ra,dec,kind,mag,major,minor",
			"Good,1,2,,,,",
			",1,2,,,,",
			"Far,361,2,,,,",
			"South,1,-91,,,,",
			"Kind,1,2,quasar,,,",
			"Mag,1,2,,bright,,",
			"Axes,1,2,,,5,6",
			"Good,3,4,,,,",
			"Wide,1,2,,,,,8",
			"Twice,x,y,,,,",
		}, "\n"), []string{
			"line 3, column 1 (name): the name is empty",
			"line 4, column 2 (ra): right ascension 361 is over 360 degrees",
			"line 5, column 3 (dec): declination -91 is beyond 90 degrees",
			`line 6, column 4 (kind): kind "quasar" is not known`,
			`line 7, column 5 (mag): "bright" is not a number`,
			"line 8, column 7 (minor): the minor axis is larger",
			`line 9, column 1 (name): "Good" stands already in line 2`,
			"line 10, column 8: 8 cells, the heading has 7",
			`line 11, column 2 (ra): right ascension: "x" is not a number`,
			`line 11, column 3 (dec): declination: "y" is not a number`,
		}},
		{"long text", "name,ra,dec,line\nx,1,2," + strings.Repeat("ä", 121) + "\n", []string{"line 2, column 4 (line): 121 characters, at most 120"}},
		{"quotes", "name,ra,dec\n\"x,1,2\n", []string{"line 2: a quotation mark"}},
		{"not UTF-8", "name,ra,dec\nS\xfcd,1,2\n", []string{"line 2: the text is not UTF-8"}},
		{"infinite", "name,ra,dec,mag\nx,1,2,Inf\n", []string{"line 2, column 4 (mag): Inf is not between"}},
	} {
		got, err := catalog.ParseCSV(strings.NewReader(c.text))
		var faults catalog.CSVErrors
		if !errors.As(err, &faults) {
			t.Errorf("%s: error %v", c.name, err)
			continue
		}
		if got != nil {
			t.Errorf("%s: %d targets in spite of faults", c.name, len(got))
		}
		if len(faults) != len(c.want) {
			t.Errorf("%s: %d faults, want %d:\n%v", c.name, len(faults), len(c.want), err)
			continue
		}
		for i, want := range c.want {
			if !strings.HasPrefix(faults[i].Error(), want) {
				t.Errorf("%s: fault %d is %q, want %q", c.name, i+1, faults[i], want)
			}
		}
	}
}

func TestParseCSVLimits(t *testing.T) {
	var b strings.Builder
	b.WriteString("name,ra,dec\n")
	for i := range 2001 {
		b.WriteString(strings.Repeat("a", i%50+1) + strings.Repeat("b", i/50+1) + ",1,2\n")
	}
	if got, err := catalog.ParseCSV(strings.NewReader(b.String())); err == nil {
		t.Errorf("%d targets taken", len(got))
	}
	if _, err := catalog.ParseCSV(strings.NewReader("name,ra,dec\n" + strings.Repeat("x", 3<<20))); err == nil {
		t.Error("3 MB taken")
	}
}

func FuzzParseCSV(f *testing.F) {
	for _, s := range []string{"name,ra,dec\nx,1,2\n", "\ufeffname;ra;dec\nx;1,5;-0 30\n", "name,ra,dec\n\"", "a\tb\n", "name,ra,dec,name\n", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		targets, err := catalog.ParseCSV(strings.NewReader(s))
		if (err == nil) == (len(targets) == 0) {
			t.Fatalf("%d targets and error %v", len(targets), err)
		}
		if err != nil {
			for _, fault := range err.(catalog.CSVErrors) {
				if fault.Line < 1 || fault.Reason == "" {
					t.Errorf("fault %+v", fault)
				}
			}
			return
		}
		seen := map[string]bool{}
		for _, own := range targets {
			if own.ID == "" || own.Name == "" || seen[own.ID] || !(own.Star.RA >= 0 && own.Star.RA < 360) || !(math.Abs(own.Star.Dec) <= 90) {
				t.Errorf("target %+v", own)
			}
			seen[own.ID] = true
		}
		if n := len(catalog.Default().With(targets).All()); n < len(targets) {
			t.Errorf("%d targets in the catalogue", n)
		}
	})
}
