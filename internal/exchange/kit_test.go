package exchange_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"duskboard/internal/exchange"
	"duskboard/internal/kit"
)

func read(t *testing.T, text string) kit.Kit {
	t.Helper()
	k, err := exchange.ReadKit(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// rows makes a table of lines of column=cell, with _ for a space.
func rows(lines ...string) string {
	var columns []string
	for _, l := range lines {
		for _, word := range strings.Fields(l) {
			if name, _, _ := strings.Cut(word, "="); !slices.Contains(columns, name) {
				columns = append(columns, name)
			}
		}
	}
	table := strings.Join(columns, ",") + "\n"
	for _, l := range lines {
		cells := make([]string, len(columns))
		for _, word := range strings.Fields(l) {
			name, cell, _ := strings.Cut(word, "=")
			cells[slices.Index(columns, name)] = strings.ReplaceAll(cell, "_", " ")
		}
		table += strings.Join(cells, ",") + "\n"
	}
	return table
}

// TestReadKitAsSpreadsheetsSaveIt guards the same table in the ways in which
// spreadsheets of several countries save it.
func TestReadKitAsSpreadsheetsSaveIt(t *testing.T) {
	for name, text := range map[string]string{
		"commas":            "kind,name,design,aperture (mm),focal length,mount,weight\ninstrument,The Barrel,newtonian,203.2,1219.2,rocker-box,12.5\n",
		"semicolons, BOM":   "\xef\xbb\xbfKind;Name;Design;Aperture;Focal Length;Mount;Weight\r\ninstrument;The Barrel;Newtonian;203,2;1219,2;rocker-box;12,5\r\n",
		"tabs":              "kind\tname\tdesign\taperture\tfocallength\tmount\tweight\ninstrument\tThe Barrel\tnewtonian\t203.2\t1219.2\trocker-box\t12.5\n",
		"inches and ratios": "kind,name,design,aperture,focal length,mount,weight\ninstrument,The Barrel,newtonian,\"8\"\"\",f/6,rocker-box,12.5\n",
		"bare inch marks":   "kind;name;design;aperture;focallength;mount;weight\ninstrument;The Barrel;newtonian;8\";f/6;\"rocker-box\";12,5\n",
		"quoted, blank row": "\"kind\",\"name\",\"design\",\"aperture\",\"focal length\",\"mount\",\"weight\"\r\n,,,,,,\r\n\"instrument\",\"The Barrel\",\"newtonian\",\"8 in\",\"1219,2\",\"rocker-box\",\"12,5\"\r\n",
	} {
		k := read(t, text)
		if len(k.Instruments) != 1 {
			t.Fatalf("%s: %d instruments", name, len(k.Instruments))
		}
		i := k.Instruments[0]
		if i.Name != "The Barrel" || i.Design != kit.Newtonian || math.Abs(i.Aperture-203.2) > 1e-9 || math.Abs(i.FocalLength-1219.2) > 1e-6 || i.Weight != 12.5 || i.Count != 1 {
			t.Errorf("%s: read %+v", name, i)
		}
		if cmp.Diff(i.Fill(), i) != "" || len(i.Assumed) < 10 {
			t.Errorf("%s: what was left empty is not filled and marked: %v", name, i.Assumed)
		}
	}
}

// TestKitRoundTrip guards that what is exported comes back the same, ids and
// owners apart.
func TestKitRoundTrip(t *testing.T) {
	k := read(t, rows(
		"kind=instrument name=The_Barrel design=newtonian aperture=8_in focallength=f/6 mount=rocker-box notes==HYPERLINK(x) solarfullaperture=yes solarcertified=yes solarfitted=yes solarinspected=2026-03-01 count=2 fan=yes tracking=no",
		"kind=instrument name=Pair design=binoculars aperture=50 mount=tripod power=10 fixedfield=6.5",
		"kind=eyepiece name=Wide focallength=25 apparentfield=68 barrel=1.25in notes=-5_on_the_label",
		"kind=amplifier name=Coma type=corrector barrel=2in onlyfor=newtonian factor=1.1",
		"kind=diagonal name=Star type=mirror-90 for=Pair barrel=1.25in",
		"kind=filter name=Moon type=neutral",
		"kind=finder name=Dot type=unit-power for=THE_BARREL",
		"kind=dew-gear name=Strip type=heater-strip maxdiameter=240",
		"kind=battery name=Box type=lifepo4 for=The_Barrel capacity=17",
		"kind=steps name=Stool type=stool height=0.3",
	))
	var out bytes.Buffer
	if err := exchange.WriteKit(&out, k); err != nil {
		t.Fatal(err)
	}
	again := read(t, out.String())
	opts := cmp.Options{cmpopts.IgnoreFields(kit.Base{}, "ID", "OwnerID"), cmpopts.IgnoreFields(kit.Diagonal{}, "ForID"), cmpopts.IgnoreFields(kit.Finder{}, "ForID"), cmpopts.IgnoreFields(kit.Battery{}, "ForID"), cmpopts.EquateEmpty()}
	if d := cmp.Diff(k, again, opts); d != "" {
		t.Errorf("the export comes back different (-before +after):\n%s", d)
	}
	if k.Finders[0].ForID != k.Instruments[0].ID || again.Finders[0].ForID != again.Instruments[0].ID {
		t.Error("the finder does not belong to its instrument")
	}
	if !strings.HasPrefix(out.String(), "\ufeffkind,name,") || !strings.Contains(out.String(), "\r\n") {
		t.Errorf("not RFC 4180 with a byte-order mark: %.60q", out.String())
	}
}

// TestFormulasAreNeutralised guards that no cell of an export begins as a
// formula would (OWASP ASVS 5.0, 1.2.10), and that numbers stay numbers.
func TestFormulasAreNeutralised(t *testing.T) {
	var k kit.Kit
	for _, name := range []string{"=1+1", "+1", "-1", "@sum(a1)", "\tx", "＝1", "'quoted", "plain"} {
		k.Eyepieces = append(k.Eyepieces, kit.Eyepiece{Base: kit.Base{Name: name, Count: 1, Notes: name}, FocalLength: 25}.Fill())
	}
	var out bytes.Buffer
	if err := exchange.WriteKit(&out, k); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(out.String(), "\ufeff"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		for _, cell := range row {
			if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") {
				t.Errorf("cell %q would be run as a formula", cell)
			}
		}
	}
	if !strings.Contains(out.String(), ",25,") && !strings.Contains(out.String(), ",25\r") {
		t.Errorf("the focal length is not written as a plain number:\n%s", out.String())
	}
	again := read(t, out.String())
	if again.Eyepieces[0].Name != "=1+1" || again.Eyepieces[6].Name != "'quoted" {
		t.Errorf("names come back as %q and %q", again.Eyepieces[0].Name, again.Eyepieces[6].Name)
	}
}

// TestFaultsNameRowAndColumn guards that each fault is named by its place and
// that nothing is returned beside one.
func TestFaultsNameRowAndColumn(t *testing.T) {
	text := "kind,name,design,aperture,focallength,mount,count,fan,power\n" +
		"instrument,A,newtonian,NaN,1200,rocker-box,1,yes,\n" +
		"instrument,B,newtonian,200,1e309,rocker-box,x,maybe,\n" +
		"telescope,C,,,,,,,\n" +
		"eyepiece,D,newtonian,,25,,,,\n" +
		"instrument,E,newtonian,200000,1200,rocker-box,1,,\n" +
		"instrument,F,newtonian,200,1200,rocker-box,1,,,extra\n"
	k, err := exchange.ReadKit(strings.NewReader(text))
	var faults exchange.Faults
	if !errors.As(err, &faults) || len(k.Instruments)+len(k.Eyepieces) != 0 {
		t.Fatalf("kit %+v, error %v", k, err)
	}
	var places []string
	for _, f := range faults {
		places = append(places, strings.Split(f.String(), ":")[0])
	}
	// The cell without a heading is found by the reader, which stops the rest.
	if got := strings.Join(places, "; "); got != "row 7" {
		t.Errorf("faults at %s: %v", got, err)
	}
	_, err = exchange.ReadKit(strings.NewReader(strings.Replace(text, ",extra", "", 1)))
	if !errors.As(err, &faults) {
		t.Fatal(err)
	}
	places = nil
	for _, f := range faults {
		places = append(places, strings.Split(f.String(), ":")[0])
	}
	want := "row 2, aperture; row 3, focallength; row 3, count; row 3, fan; row 4, kind; row 5, design; row 6, aperture"
	got := strings.Join(places, "; ")
	for _, w := range strings.Split(want, "; ") {
		if !strings.Contains(got, w) {
			t.Errorf("no fault at %s; there are: %s", w, got)
		}
	}
}

// TestUnknownWordsAreAnsweredWithTheKnown: a cell has no list to choose from,
// so a fault in one names the words that it takes.
func TestUnknownWordsAreAnsweredWithTheKnown(t *testing.T) {
	_, err := exchange.ReadKit(strings.NewReader("kind,name,design,aperture,focallength,mount\ninstrument,A,maksutov,127,1500,pole\n"))
	if err == nil {
		t.Fatal("taken")
	}
	for _, want := range []string{"“maksutov” is none of: newtonian", "maksutov-cassegrain", "“pole” is none of: rocker-box", "tripod"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not in: %v", want, err)
		}
	}
	// A known word that does not go with the rest keeps its own reason.
	_, err = exchange.ReadKit(strings.NewReader("kind,name,design,aperture,power,fixedfield,focuser\ninstrument,B,binoculars,50,10,5,2in\n"))
	if err == nil || !strings.Contains(err.Error(), "binoculars have fixed or 1.25 inch eyepieces") {
		t.Errorf("binoculars with a 2 inch focuser: %v", err)
	}
}

// TestTablesThatAreNone guards what is refused as a whole.
func TestTablesThatAreNone(t *testing.T) {
	for name, text := range map[string]string{
		"empty": "", "heading only": "kind,name\n", "latin-1": "kind,name\neyepiece,\xe4\n", "binary": "PK\x03\x04\x00\x00",
		"unknown column": "kind,name,colour\neyepiece,A,red\n", "column twice": "kind,name,name\neyepiece,A,B\n",
		"open quote": "kind,name\neyepiece,\"A\n", "10 MB": "kind,name\n" + strings.Repeat("eyepiece,A\n", 1<<20),
		"too many rows": "kind,name\n" + strings.Repeat("steps,A\n", 6000), "long cell": "kind,name\nsteps," + strings.Repeat("x", 5000),
		"for nothing": "kind,name,type,for\nfinder,A,straight,Nobody\n",
	} {
		if k, err := exchange.ReadKit(strings.NewReader(text)); err == nil {
			t.Errorf("%s was taken: %+v", name, k)
		}
	}
}

// FuzzReadKit guards that whatever is taken passes the domain's own check and
// can be written and read again.
func FuzzReadKit(f *testing.F) {
	f.Add("kind,name,focallength\neyepiece,A,25\n")
	f.Add("\xef\xbb\xbfkind;name;design;aperture\ninstrument;B;newtonian;8\" \n")
	f.Add("kind,name,height\nsteps,\u202egnol,1e309\n")
	f.Add("kind,name,type,capacity\nbattery,=cmd,lifepo4,NaN\n")
	f.Fuzz(func(t *testing.T, text string) {
		k, err := exchange.ReadKit(strings.NewReader(text))
		if err != nil {
			return
		}
		for _, e := range k.Eyepieces {
			if faults := e.Check(); len(faults) > 0 {
				t.Errorf("taken, but %v", faults)
			}
		}
		var out bytes.Buffer
		if err := exchange.WriteKit(&out, k); err != nil {
			t.Fatal(err)
		}
		if _, err := exchange.ReadKit(&out); err != nil {
			t.Errorf("what was taken does not come back: %v", err)
		}
	})
}
