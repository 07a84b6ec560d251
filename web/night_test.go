package web_test

import (
	"context"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskboard/internal/night"
)

func TestSites(t *testing.T) {
	v := visit(t)
	v.save("/sites", "Name", "Salt Flat", "Lat", `22° 54' 36" S`, "Lon", "68 12 W", "Elev", "2400", "Measured", "21.8", "Ladders", "1")
	s, err := v.store.Site(context.Background(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if s.Place.Lat != -22.91 || s.Place.Lon != -68.2 || s.Place.Elev != 2400 || s.Brightness != 21.8 || !s.Ladders || s.Power {
		t.Errorf("stored %+v", s)
	}
	if s.Zone != "America/Santiago" {
		t.Errorf("zone %q, want it found from the coordinates", s.Zone)
	}
	if flash := v.get("/sites").testid("flash"); !strings.Contains(flash, "America/Santiago") {
		t.Errorf("flash %q does not say which zone was found", flash)
	}
	v.save("/sites/1", formOf(v.get("/sites/1"))...)
	again, err := v.store.Site(context.Background(), 1)
	if err != nil {
		t.Fatal(err)
	}
	again.Version = s.Version
	if again.Place != s.Place || again.Brightness != s.Brightness || again.Zone != s.Zone {
		t.Errorf("saving unchanged turned %+v into %+v", s, again)
	}
}

func TestRefusedSites(t *testing.T) {
	v := visit(t)
	sound := map[string]string{"Name": "Meadow", "Lat": "52.5", "Lon": "13.4", "Step": "4"}
	for _, c := range []struct{ field, typed string }{
		{"Name", ""}, {"Lat", ""}, {"Lat", "99"}, {"Lat", "north"}, {"Lon", "200"}, {"Elev", "99999"}, {"Elev", "high"},
		{"Zone", "Mars/Dome"}, {"Horizon", "90 99"}, {"Horizon", "a\nb"}, {"Measured", "3"}, {"Measured", "dark"}, {"Step", ""}, {"Step", "12"},
		{"Notes", strings.Repeat("x", 5000)},
	} {
		form := url.Values{}
		for k, x := range sound {
			form.Set(k, x)
		}
		form.Set(c.field, c.typed)
		form.Set("Ground", "kept")
		var pairs []string
		for k := range form {
			pairs = append(pairs, k, form.Get(k))
		}
		p := v.post("/sites", pairs...).wants(http.StatusUnprocessableEntity)
		if p.fault(c.field) == "" {
			t.Errorf("%s %q: no message beside it; above the form %q", c.field, c.typed, p.faults())
		}
		if got := p.value(c.field); got != c.typed && c.field != "Step" {
			t.Errorf("%s holds %q, want %q as typed", c.field, got, c.typed)
		}
		if got := p.value("Ground"); got != "kept" {
			t.Errorf("%s %q: ground holds %q", c.field, c.typed, got)
		}
	}
	all, err := v.store.Sites(context.Background())
	if err != nil || len(all) != 0 {
		t.Errorf("%d refused sites were kept, %v", len(all), err)
	}
}

// TestFragments guards what a script asks for while somebody types.
func TestFragments(t *testing.T) {
	v := visit(t)
	fill(v)
	if got := v.post("/sites/zone", "Lat", "53.35", "Lon", "-6.26").wants(http.StatusOK).value("Zone"); got != "Europe/Dublin" {
		t.Errorf("zone %q, want Europe/Dublin", got)
	}
	if got := v.post("/sites/zone", "Lat", "53.35", "Lon", "-6.26", "Zone", "Europe/Rome").value("Zone"); got != "Europe/Rome" {
		t.Errorf("zone %q, want what was typed", got)
	}
	if p := v.post("/sites/horizon", "Horizon", "S 30\nnonsense").wants(http.StatusOK); !strings.Contains(p.body, "line 2") && !strings.Contains(p.body, "Line 2") {
		t.Error("the drawing does not say which line it could not read")
	}
	// Astronomical twilight does not end in Berlin at midsummer: the Sun stays
	// above -18 degrees (90 - 52.5 - 23.4 = 14.1 degrees below at midnight).
	if p := v.post("/nights/sky", "Date", "2026-06-20", "Site", "1").wants(http.StatusOK); !strings.Contains(p.body, "never fully dark") {
		t.Errorf("midsummer: %s", text(p.root))
	}
	if p := v.post("/nights/sky", "Date", "soon", "Site", "1").wants(http.StatusOK); strings.Contains(p.body, "Sunset") {
		t.Error("a date that is none has a sunset")
	}
	if p := v.get("/nights/1/targets?q=" + url.QueryEscape("messier 40")).wants(http.StatusOK); !strings.Contains(text(p.root), "M 40") {
		t.Errorf("search for Messier 40 finds %q", text(p.root))
	}
}

func TestRefusedNights(t *testing.T) {
	v := visit(t)
	fill(v)
	sound := map[string]string{"Date": "2026-10-24", "Site": "1", "From": "20:00", "To": "23:00", "Guests": "80", "Audience": "families", "Block": "15"}
	for _, c := range []struct{ field, typed, says string }{
		{"Date", "", "date"}, {"Date", "2026-02-30", "does not exist"}, {"Date", "1066-10-14", "years"}, {"Site", "99", "choose the site"},
		{"From", "", "write the time"}, {"From", "25:00", "write the time"}, {"To", "19:00", "after the beginning"}, {"To", "20:05", "15 minutes"},
		{"To", "11:00", "14 hours"}, {"Guests", "-1", "0 to 20000"}, {"Guests", "many", "0 to 20000"}, {"Audience", "cats", "list"}, {"Block", "7", "10, 15"},
		{"Seeing", "99", "arcseconds"}, {"Name", strings.Repeat("x", 99), "80 letters"},
		{"To", "2:30", "occurs twice"}, // the clocks are set back on 25 October 2026
	} {
		var pairs []string
		for k, x := range sound {
			if k != c.field {
				pairs = append(pairs, k, x)
			}
		}
		pairs = append(pairs, c.field, c.typed, "Notes", "kept")
		p := v.post("/nights", pairs...).wants(http.StatusUnprocessableEntity)
		if got := p.fault(c.field); !strings.Contains(strings.ToLower(got), c.says) {
			t.Errorf("%s %q: message %q, want one that says %q; above the form %q", c.field, c.typed, got, c.says, p.faults())
		}
		if got := p.value("Notes"); got != "kept" {
			t.Errorf("%s %q: notes hold %q", c.field, c.typed, got)
		}
		if got := p.value(c.field); got != c.typed && c.field != "Site" && c.field != "Audience" && c.field != "Block" {
			t.Errorf("%s holds %q, want %q as typed", c.field, got, c.typed)
		}
	}
}

// TestNightAcrossTheClockChange guards hours that cross midnight and a change:
// 22:00 to the second 02:30 in Berlin on 24 October 2026 is five and a half
// hours, not four and a half (clocks go back at 01:00 UTC, directive 2000/84/EC).
func TestNightAcrossTheClockChange(t *testing.T) {
	v := visit(t)
	fill(v)
	form := []string{"Date", "2026-10-24", "Site", "1", "From", "22:00", "To", "2:30", "Guests", "80", "Audience", "adults", "Block", "30"}
	if p := v.post("/nights", form...).wants(http.StatusUnprocessableEntity); len(p.all(having("name", "ToWhich"))) != 2 {
		t.Fatal("the form does not ask which 02:30 is meant")
	}
	for _, c := range []struct {
		which string
		want  time.Duration
	}{{"first", 4*time.Hour + 30*time.Minute}, {"second", 5*time.Hour + 30*time.Minute}} {
		to := v.save("/nights", append(slices.Clone(form), "ToWhich", c.which)...)
		path := strings.TrimSuffix(to, "/choose")
		all, err := v.store.Nights(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(all, func(n night.Night) bool { return path == "/nights/"+strconv.FormatInt(n.ID, 10) })
		if i < 0 {
			t.Fatalf("no night at %s", path)
		}
		if got := all[i]; got.Public != c.want || !got.PublicFrom.Equal(time.Date(2026, 10, 24, 20, 0, 0, 0, time.UTC)) {
			t.Errorf("%s 02:30: from %v for %v, want 20:00 UTC for %v", c.which, got.PublicFrom, got.Public, c.want)
		}
		if got := v.get(path + "/edit").value("ToWhich"); got != c.which {
			t.Errorf("opened again, the form says %q, want %q", got, c.which)
		}
	}
}

func TestChoose(t *testing.T) {
	v := visit(t)
	fill(v)
	p, err := v.store.Plan(context.Background(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Kit.Instruments) != 1 || len(p.Kit.Eyepieces) != 1 || len(p.Availability) != 1 || len(p.Targets) < 10 {
		t.Fatalf("a new night starts with %d instruments, %d eyepieces, %d asked, %d targets", len(p.Kit.Instruments), len(p.Kit.Eyepieces), len(p.Availability), len(p.Targets))
	}
	if slices.Contains(p.Targets, "sun") {
		t.Error("the Sun is offered unasked")
	}

	// Search, tick what is found, name a must, send an eyepiece home.
	form := set(formOf(v.get("/nights/1/choose")), "q", "m 31")
	to := v.save("/nights/1/choose", append(form, "then", "find")...)
	if !strings.HasPrefix(to, "/nights/1/choose?q=m+31") {
		t.Errorf("a search leads to %q", to)
	}
	form = formOf(v.get("/nights/1/choose"))
	var changed []string
	for i := 0; i < len(form); i += 2 {
		if form[i] != "eyepieces" && !strings.HasPrefix(form[i], "answer-") && !strings.HasPrefix(form[i], "from-") && !strings.HasPrefix(form[i], "to-") {
			changed = append(changed, form[i], form[i+1])
		}
	}
	changed = append(changed, "must", "m51", "answer-1", "yes", "from-1", "20:30", "to-1", "0:15")
	if to := v.save("/nights/1/choose", changed...); to != "/nights/1" {
		t.Errorf("saving leads to %q", to)
	}
	if p, err = v.store.Plan(context.Background(), 1); err != nil {
		t.Fatal(err)
	}
	if len(p.Kit.Eyepieces) != 0 || len(p.Kit.Instruments) != 1 {
		t.Errorf("%d eyepieces and %d instruments, want 0 and 1", len(p.Kit.Eyepieces), len(p.Kit.Instruments))
	}
	if !slices.Equal(p.MustShow, []string{"m51"}) || !slices.Contains(p.Targets, "m51") {
		t.Errorf("must %v; a must is among the targets: %v", p.MustShow, slices.Contains(p.Targets, "m51"))
	}
	a := p.Availability[0]
	if a.Answer != "yes" || !a.From.Equal(time.Date(2026, 9, 19, 18, 30, 0, 0, time.UTC)) || !a.To.Equal(time.Date(2026, 9, 19, 22, 15, 0, 0, time.UTC)) {
		t.Errorf("answer %+v, want yes from 18:30 to 22:15 UTC", a)
	}

	// A form opened before that save is stale.
	v.post("/nights/1/choose", form...).wants(http.StatusConflict)

	// Nonsense beside a volunteer keeps the page and what was typed.
	r := v.post("/nights/1/choose", set(changed, "from-1", "soon")...).wants(http.StatusUnprocessableEntity)
	if r.fault("from-1") == "" || r.value("from-1") != "soon" {
		t.Errorf("message %q beside %q", r.fault("from-1"), r.value("from-1"))
	}
}

func TestRefusedVolunteers(t *testing.T) {
	v := visit(t)
	for _, c := range []struct{ field, typed string }{
		{"Name", ""}, {"Email", "noor"}, {"Email", "a@b, c@d"}, {"Phone", "call me"}, {"Drive", "-4"}, {"Drive", "an hour"}, {"skill-mount-rocker-box", "wizard"},
	} {
		pairs := []string{c.field, c.typed, "Languages", "Dutch"}
		if c.field != "Name" {
			pairs = append(pairs, "Name", "Noor")
		}
		p := v.post("/crew", pairs...).wants(http.StatusUnprocessableEntity)
		if p.fault(c.field) == "" || p.value("Languages") != "Dutch" {
			t.Errorf("%s %q: message %q, languages %q", c.field, c.typed, p.fault(c.field), p.value("Languages"))
		}
	}
}

// TestNightLeadsToItsForm guards the way from a night to its date and hours:
// without it a wrong date could not be put right.
func TestNightLeadsToItsForm(t *testing.T) {
	v := visit(t)
	fill(v)
	for _, a := range v.get("/nights/1").wants(http.StatusOK).all(having("data-testid", "edit")) {
		v.get(attr(a, "href")).wants(http.StatusOK)
		return
	}
	t.Error("a night's first page does not lead to its form")
}
