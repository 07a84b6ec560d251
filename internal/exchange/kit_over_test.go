package exchange_test

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"

	"duskboard/internal/exchange"
	"duskboard/internal/kit"
)

// have is a kit as the store returns it.
func have(t *testing.T) kit.Kit {
	t.Helper()
	k := read(t, rows(
		"kind=instrument name=The_Barrel design=newtonian aperture=203 focallength=1219 mount=rocker-box weight=12",
		"kind=eyepiece name=Wide focallength=25 notes=scratched",
		"kind=finder name=Dot type=unit-power for=The_Barrel",
	))
	k.Instruments[0].ID, k.Instruments[0].Version = 7, 3
	k.Eyepieces[0].ID, k.Eyepieces[0].Version = 8, 2
	k.Finders[0].ID, k.Finders[0].ForID = 9, 7
	return k
}

func plan(t *testing.T, text string, k kit.Kit) exchange.KitPlan {
	t.Helper()
	p, err := exchange.PlanKit(strings.NewReader(text), k)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestPlanKitTellsWhatEachRowDoes guards added, changed and left alone, that a
// change keeps what the row does not say, and that a value typed for the first
// time is assumed no more.
func TestPlanKitTellsWhatEachRowDoes(t *testing.T) {
	p := plan(t, rows(
		"kind=eyepiece name=WIDE focallength=25",
		"kind=instrument name=the_barrel weight=13.5",
		"kind=battery name=Box type=lifepo4 capacity=17 for=The_Barrel",
		"kind=eyepiece name=Narrow focallength=9",
	), have(t))
	var said []string
	for _, c := range p.Changes {
		said = append(said, c.Name+" "+string(c.Outcome))
	}
	if got := strings.Join(said, "; "); got != "Wide left alone; The Barrel changed; Box added; Narrow added" {
		t.Errorf("rows are %s", got)
	}
	if n := p.Count(exchange.Added); n != 2 {
		t.Errorf("%d are added", n)
	}
	i := p.Kit.Instruments
	if len(i) != 1 || i[0].ID != 7 || i[0].Version != 3 || i[0].Weight != 13.5 || i[0].Aperture != 203 || i[0].Name != "The Barrel" {
		t.Errorf("the change is %+v", i)
	}
	if len(p.Kit.Eyepieces) != 1 || p.Kit.Eyepieces[0].Name != "Narrow" || p.Kit.Eyepieces[0].ID >= 0 {
		t.Errorf("eyepieces to save: %+v", p.Kit.Eyepieces)
	}
	if b := p.Kit.Batteries; len(b) != 1 || b[0].ForID != 7 {
		t.Errorf("the battery belongs to %+v", b)
	}
	if d := p.Changes[1].Columns; !slices.Contains(d, exchange.Differ{Column: "weight", Was: "12", Is: "13.5"}) {
		t.Errorf("the change is told as %v", d)
	}
	k := have(t)
	if !slices.Contains(k.Eyepieces[0].Assumed, "ApparentField") {
		t.Fatal("the test needs an assumed field")
	}
	p = plan(t, rows("kind=eyepiece name=wide apparentfield=52"), k)
	if e := p.Kit.Eyepieces; len(e) != 1 || slices.Contains(e[0].Assumed, "ApparentField") || e[0].Notes != "scratched" {
		t.Errorf("a value that is known now: %+v", e)
	}
}

// TestPlanKitOfItsOwnExport guards that taking the kit out and in again
// changes nothing.
func TestPlanKitOfItsOwnExport(t *testing.T) {
	k := have(t)
	var out bytes.Buffer
	if err := exchange.WriteKit(&out, k); err != nil {
		t.Fatal(err)
	}
	p := plan(t, out.String(), k)
	if p.Count(exchange.Same) != 3 || len(p.Changes) != 3 || len(p.Kit.Instruments)+len(p.Kit.Eyepieces)+len(p.Kit.Finders) != 0 {
		t.Errorf("the plan is %+v", p)
	}
}

// TestPlanKitRefusesWhatCouldMeanTwoThings guards names that stand twice, in
// the table and in the kit, and that retired pieces do not count.
func TestPlanKitRefusesWhatCouldMeanTwoThings(t *testing.T) {
	twice := have(t)
	twice.Eyepieces = append(twice.Eyepieces, twice.Eyepieces[0])
	twice.Eyepieces[1].ID = 10
	for name, c := range map[string]struct {
		text string
		kit  kit.Kit
		want string
	}{
		"in the table": {rows("kind=eyepiece name=A focallength=9", "kind=eyepiece name=a focallength=10"), have(t), "row 3, name"},
		"in the kit":   {rows("kind=eyepiece name=Wide focallength=9"), twice, "row 2, name"},
		"no such for":  {rows("kind=finder name=New type=straight for=Nobody"), have(t), "row 2, for"},
	} {
		p, err := exchange.PlanKit(strings.NewReader(c.text), c.kit)
		var faults exchange.Faults
		if !errors.As(err, &faults) || !strings.HasPrefix(faults.Error(), c.want) || len(p.Changes) > 0 {
			t.Errorf("%s: %+v, %v", name, p, err)
		}
	}
	twice.Eyepieces[0].Retired = true
	if p := plan(t, rows("kind=eyepiece name=Wide focallength=9"), twice); p.Kit.Eyepieces[0].ID != 10 {
		t.Errorf("a retired piece is changed: %+v", p.Kit.Eyepieces)
	}
}

// TestKitColumnsAreExplained guards that each column has its meaning, and that
// the template is taken as it is.
func TestKitColumnsAreExplained(t *testing.T) {
	for _, c := range exchange.KitColumns() {
		if c.Meaning == "" {
			t.Errorf("column %s is not explained", c.Name)
		}
	}
	if extra := exchange.StrayMeanings(); len(extra) > 0 {
		t.Errorf("explained, but no columns: %v", extra)
	}
	if p := plan(t, exchange.KitTemplate, kit.Kit{}); p.Count(exchange.Added) != 6 {
		t.Errorf("the template adds %d pieces", p.Count(exchange.Added))
	}
}

// FuzzPlanKit guards that no table brings the import down over a kit that is
// there, and that a plan that was carried out has nothing left to do.
func FuzzPlanKit(f *testing.F) {
	f.Add("kind,name,weight\ninstrument,The Barrel,13\n")
	f.Add("kind;name;apparentfield\neyepiece;wide;52,5\n")
	f.Add("kind,name,for\nfinder,Dot,the barrel\nfinder,dot,\n")
	f.Fuzz(func(t *testing.T, text string) {
		k := read(t, "kind,name,design,aperture,focallength,mount,type\ninstrument,The Barrel,newtonian,203,1219,rocker-box,\neyepiece,Wide,,,25,,\nfinder,Dot,,,,,unit-power\n")
		p, err := exchange.PlanKit(strings.NewReader(text), k)
		if err != nil {
			if len(p.Changes) > 0 {
				t.Error("a refused table has changes")
			}
			return
		}
		if n := p.Count(exchange.Added) + p.Count(exchange.Changed) + p.Count(exchange.Same); n != len(p.Changes) {
			t.Errorf("%d outcomes of %d rows", n, len(p.Changes))
		}
	})
}
