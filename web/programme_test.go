package web_test

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/invopop/jsonschema"
	check "github.com/santhosh-tekuri/jsonschema/v6"

	"duskboard/internal/account"
	"duskboard/internal/night"
	"duskboard/web"
)

var updateSchema = flag.Bool("update-schema", false, "write the programme's schema anew from its types")

var programmeSchema = filepath.Join("..", "testdata", "programme", "duskboard-programme-1.schema.json")

// TestProgrammeSchemaFollowsTypes guards the contract: the committed schema is
// that of the types, so no field changes unseen.
func TestProgrammeSchemaFollowsTypes(t *testing.T) {
	s := (&jsonschema.Reflector{ExpandedStruct: true, Anonymous: true, AllowAdditionalProperties: true}).Reflect(&web.Programme{})
	s.Title = "Duskboard programme, " + web.ProgrammeFormat
	s.Description = "What guests may know of a public night, at /n/{night}/programme.json. Angles in degrees, heights in m, instants RFC 3339 in UTC. Fields may be added under this number, never removed or changed."
	if p, ok := s.Properties.Get("format"); ok {
		p.Const = web.ProgrammeFormat
	}
	got, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	got = append(got, '\n')
	if *updateSchema {
		if err := os.WriteFile(programmeSchema, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(programmeSchema)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(have), string(got)); d != "" {
		t.Errorf("the schema does not follow the types; run go test ./web -run ProgrammeSchema -update-schema (-have +want):\n%s", d)
	}
}

// programmeOf reads a night's public programme and holds it to the schema.
func programmeOf(t *testing.T, p page) web.Programme {
	t.Helper()
	schema, err := check.NewCompiler().Compile(programmeSchema)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := check.UnmarshalJSON(strings.NewReader(p.body))
	if err != nil {
		t.Fatal(err)
	}
	if err := schema.Validate(doc); err != nil {
		t.Errorf("the programme breaks its schema: %v", err)
	}
	var out web.Programme
	d := json.NewDecoder(bytes.NewReader([]byte(p.body)))
	d.DisallowUnknownFields()
	if err := d.Decode(&out); err != nil {
		t.Fatal(err)
	}
	return out
}

// TestProgrammeIsPublicOnceSaidSo: nothing before, one press, undo; then the
// same showings as the plan, and no person's data in either form.
func TestProgrammeIsPublicOnceSaidSo(t *testing.T) {
	ctx := context.Background()
	v := planned(t, 0)
	for _, path := range []string{"/n/1", "/n/1/programme.json", "/n/99", "/n/99/programme.json", "/n/x"} {
		v.get(path).wants(http.StatusNotFound)
	}
	if v.get("/nights/1/programme").wants(http.StatusOK); !strings.Contains(v.get("/nights/1/programme").testid("publish"), "Not public") {
		t.Error("the preview does not say that the page is not public")
	}
	if to := v.save("/nights/1/programme/publish"); to != "/nights/1/programme" {
		t.Errorf("publishing leads to %s", to)
	}
	if flash := v.get("/nights/1/programme"); flash.testid("flash") == "" || !strings.Contains(flash.body, "/nights/1/programme/withdraw") {
		t.Error("publishing offers no undo")
	}
	wantNil(t, v.store.AddDecision(ctx, 1, night.Decision{At: now, Who: "Somebody Particular", Word: night.WordOff, Words: "ring 0123 456"}))

	html, doc := v.get("/n/1").wants(http.StatusOK), v.get("/n/1/programme.json").wants(http.StatusOK)
	p := programmeOf(t, doc)
	plan, err := v.store.Plan(ctx, 1)
	wantNil(t, err)
	if len(p.Showings) != len(plan.Showings) || len(p.Showings) == 0 {
		t.Errorf("%d showings in public, %d planned", len(p.Showings), len(plan.Showings))
	}
	planned := map[string]bool{}
	for _, s := range plan.Showings {
		planned[s.TargetID+s.From.UTC().Format(time.RFC3339)+s.To().UTC().Format(time.RFC3339)] = true
	}
	for _, s := range p.Showings {
		if !planned[s.Target.ID+s.From.Format(time.RFC3339)+s.To.Format(time.RFC3339)] {
			t.Errorf("showing %+v is not in the plan", s)
		}
		if s.Access.Adults == "" || s.Access.EyepieceLow <= 0 || s.Target.Expect == "" {
			t.Errorf("showing of %s: access %+v, expect %q", s.Target.Name, s.Access, s.Target.Expect)
		}
	}
	if p.Status != "off" || !strings.Contains(html.testid("programme"), "Called off") {
		t.Errorf("a night that is off has status %q and says %.80q", p.Status, html.testid("programme"))
	}
	if p.Place.Latitude != plan.Site.Place.Lat || !strings.Contains(html.body, "geo:") {
		t.Errorf("place %+v, want that of the site %+v", p.Place, plan.Site.Place)
	}
	for _, form := range []page{html, doc} {
		for _, secret := range []string{"Somebody Particular", "0123 456", plan.Club.Contact} {
			if secret != "" && strings.Contains(form.body, secret) {
				t.Errorf("the public sees %q", secret)
			}
		}
		for _, x := range plan.Volunteers {
			if strings.Contains(form.body, x.Name) || x.Email != "" && strings.Contains(form.body, x.Email) {
				t.Errorf("the public sees the volunteer %s", x.Name)
			}
		}
	}
	sound(t, "/n/1", html)

	if c := doc.header.Get("Cache-Control"); c != "public, max-age=60" || doc.header.Get("Access-Control-Allow-Origin") != "*" {
		t.Errorf("cache %q, origin %q", c, doc.header.Get("Access-Control-Allow-Origin"))
	}
	req, err := http.NewRequest(http.MethodGet, v.base+"/n/1/programme.json", nil)
	wantNil(t, err)
	req.Header.Set("If-None-Match", doc.header.Get("ETag"))
	if again := v.do(req); again.status != http.StatusNotModified || again.body != "" {
		t.Errorf("the same again: %d, %d bytes", again.status, len(again.body))
	}
	if de := v.get("/n/1?lang=de").wants(http.StatusOK); !strings.Contains(de.testid("programme"), "Was man mitbringt") {
		t.Error("the page does not speak German")
	}
	v.save("/nights/1/programme/withdraw")
	v.get("/n/1").wants(http.StatusNotFound)
	v.get("/n/1/programme.json").wants(http.StatusNotFound)
}

// TestProgrammeWithoutLineUp: a public night with nothing planned says so, and
// the next public night is named there while a hidden one is not.
func TestProgrammeWithoutLineUp(t *testing.T) {
	ctx := context.Background()
	v := visit(t)
	fill(v)
	first, err := v.store.Night(ctx, 1)
	wantNil(t, err)
	for _, name := range []string{"Second night", "Hidden night"} {
		n := first
		n.ID, n.Version, n.Name = 0, 0, name
		n.Date, n.PublicFrom = n.Date.AddDays(7), n.PublicFrom.AddDate(0, 0, 7)
		wantNil(t, v.store.SaveNight(ctx, &n))
		if name == "Second night" {
			wantNil(t, v.store.Publish(ctx, n.ID, true))
		}
	}
	wantNil(t, v.store.Publish(ctx, 1, true))
	p := programmeOf(t, v.get("/n/1/programme.json").wants(http.StatusOK))
	if len(p.Showings) != 0 || p.Status != "planned" || len(p.Next) != 1 || p.Next[0].Name != "Second night" || p.Next[0].Zone != "Europe/Berlin" {
		t.Errorf("programme %+v", p)
	}
	html := v.get("/n/1").wants(http.StatusOK).testid("programme")
	if !strings.Contains(html, "a few days before the night") || strings.Contains(html, "Hidden") {
		t.Errorf("the page says %q", html)
	}
}

// TestGuestsNeedNoAccount: with accounts on, a stranger reads the public page
// and nothing else; only a coordinator publishes.
func TestGuestsNeedNoAccount(t *testing.T) {
	g := startGuarded(t, nil)
	ada := g.coordinator()
	fill(ada)
	viewer, stranger := g.member(ada, "Vi", account.Viewer), g.browser()
	if p := viewer.post("/nights/1/programme/publish"); p.status != http.StatusForbidden {
		t.Errorf("a viewer publishes: %d", p.status)
	}
	if p := stranger.post("/nights/1/programme/publish"); p.status != http.StatusSeeOther || !strings.Contains(p.header.Get("Location"), "sign-in") {
		t.Errorf("a stranger publishes: %d to %s", p.status, p.header.Get("Location"))
	}
	stranger.get("/n/1").wants(http.StatusNotFound)
	ada.save("/nights/1/programme/publish")
	stranger.get("/n/1").wants(http.StatusOK)
	stranger.get("/n/1/programme.json").wants(http.StatusOK)
	if p := stranger.get("/nights/1/programme"); p.status != http.StatusSeeOther {
		t.Errorf("a stranger sees the preview: %d", p.status)
	}
}

func wantNil(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
