package web_test

import (
	"bytes"
	"context"
	"encoding/json"
	"net/http"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"duskboard/internal/account"
	"duskboard/internal/crew"
	"duskboard/internal/store"
)

// actions returns the addresses of the forms of a page that end so.
func (p page) actions(end string) (out []string) {
	for _, n := range p.all(tag("form")) {
		if a := attr(n, "action"); strings.HasSuffix(a, end) {
			out = append(out, a)
		}
	}
	return out
}

// TestBinPage puts one thing away, takes it back, and deletes it for good.
func TestBinPage(t *testing.T) {
	v := visit(t)
	fill(v)
	if p := v.get("/bin").wants(http.StatusOK); p.testid("empty") == "" {
		t.Error("an empty bin says nothing")
	}
	version := v.get("/kit/eyepieces/2").wants(http.StatusOK).value("Version")
	v.save("/kit/eyepieces/2/retire?version=" + version)
	p := v.get("/bin").wants(http.StatusOK)
	sound(t, "/bin", p)
	if said := p.testid("bin"); !strings.Contains(said, "Gear") || !strings.Contains(said, "needs it") && !strings.Contains(said, "days") {
		t.Errorf("the bin says %q", said)
	}
	v.save(p.actions("/take-back")[0])
	if p := v.get("/bin"); p.testid("empty") == "" {
		t.Errorf("it is still in the bin: %q", p.testid("bin"))
	}
	v.post("/bin/gear/2/take-back").wants(http.StatusNotFound)
	v.post("/bin/thing/2/take-back").wants(http.StatusNotFound)
	v.post("/bin/gear/x/discard").wants(http.StatusNotFound)

	v.save("/sites", "Name", "Other", "Lat", "52.5 N", "Lon", "13 E", "Step", "4", "Zone", "Europe/Berlin")
	v.save("/sites/2/retire", "version", "1")
	v.save(v.get("/bin").actions("/discard")[0])
	if _, err := v.store.Site(context.Background(), 2); err == nil {
		t.Error("the site is still there")
	}
	if said := v.get("/club/data").testid("club-log"); !strings.Contains(said, "Delete for good: Other") {
		t.Errorf("the history of the club says %q", said)
	}
}

// TestTablesGoOutAndIn takes sites, nights, targets and volunteers out as
// tables and in again: nothing changes; a change is told and taken back.
func TestTablesGoOutAndIn(t *testing.T) {
	v := visit(t)
	fill(v)
	ctx := context.Background()
	v.save("/targets", "name", "Little cluster", "place", "10.684708 41.26875", "kind", "open cluster", "magnitude", "5.5", "size", "30")
	if err := v.store.SaveVolunteer(ctx, &crew.Volunteer{Name: "=Zoë", Phone: "+44 20 5550 100", Languages: []string{"en", "nl"}, Limits: crew.Limits{NoLadder: true}}); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ path, from, to, says string }{
		{"/sites", "", "", ""}, {"/nights/table", "80", "95", "guests: 80 → 95"}, {"/targets", "5.5", "6.25", "mag: 5.5 → 6.25"},
	} {
		sound(t, c.path, v.get(c.path+"/import").wants(http.StatusOK))
		out := v.get(c.path + "/export.csv").wants(http.StatusOK).body
		p := v.post(c.path+"/import", "text", out).wants(http.StatusOK)
		if said := p.testid("preview"); !strings.Contains(said, "0 added, 0 changed, 1 left alone") {
			t.Errorf("%s: its own export: %q\n%s", c.path, said, out)
		}
		template := v.get(c.path + "/import/template.csv").wants(http.StatusOK).body
		if c.path == "/nights/table" {
			template = strings.ReplaceAll(template, "Example field", "Heron Meadow")
		}
		p = v.post(c.path+"/import", "text", template)
		if said := p.testid("preview"); c.path != "/nights/table" && !strings.Contains(said, "1 added, 0 changed") {
			t.Errorf("%s: the template: %d %q", c.path, p.status, p.testid("row-faults"))
		}
		if c.from == "" {
			continue
		}
		changed := strings.Replace(out, ","+c.from+",", ","+c.to+",", 1)
		p = v.post(c.path+"/import", "text", changed).wants(http.StatusOK)
		if said := p.testid("preview"); !strings.Contains(said, c.says) {
			t.Errorf("%s: a change: %q", c.path, said)
		}
		v.save(c.path+"/import", "text", changed, "keep", "1")
		if again := v.get(c.path + "/export.csv").body; !strings.Contains(again, ","+c.to+",") {
			t.Errorf("%s: the change is not there:\n%s", c.path, again)
		}
		v.save(v.get("/club/data").wants(http.StatusOK).actions("/undo")[0])
		if again := v.get(c.path + "/export.csv").body; again != out {
			t.Errorf("%s: taken back it is\n%s\nand was\n%s", c.path, again, out)
		}
	}
	p := v.post("/nights/table/import", "text", "date,site,opens,ends\n0000-01-01,Nowhere,25:00,x\n9999-12-31,,20:00,21:00\n").wants(http.StatusUnprocessableEntity)
	for _, want := range []string{"date", "site", "opens"} {
		if said := p.testid("row-faults"); !strings.Contains(said, want) {
			t.Errorf("nothing is said about %s: %q", want, said)
		}
	}
	v.post("/sites/import", "text", "name,latitude,longitude,brightness,zone\nA,90 N,0,20,UTC\nB,91,0,NaN,UTC\n").wants(http.StatusUnprocessableEntity)
	out := v.get("/crew/export.csv").wants(http.StatusOK).body
	if !strings.Contains(out, "'=Zoë") || !strings.Contains(out, "'+44") {
		t.Errorf("the crew's table: %s", out)
	}
	w := visit(t)
	w.save("/crew/import", "text", strings.ReplaceAll(out, "The Barrel: alone", ""), "keep", "1")
	vs, err := w.store.Volunteers(ctx)
	if err != nil || len(vs) < 2 || vs[0].Name != "=Zoë" && vs[1].Name != "=Zoë" {
		t.Errorf("the crew comes in as %+v, %v", vs, err)
	}
}

// TestEverythingByThePage guards that the file comes whole, with its length
// told before, and can be read into an empty folder.
func TestEverythingByThePage(t *testing.T) {
	g := startGuarded(t, nil)
	ada := g.coordinator()
	fill(ada)
	sound(t, "/club/data", ada.get("/club/data").wants(http.StatusOK))
	p := ada.get("/club/data/everything.json").wants(http.StatusOK)
	if p.header.Get("Content-Length") == "" || !strings.Contains(p.header.Get("Content-Disposition"), ".json") {
		t.Errorf("headers %v", p.header)
	}
	if strings.Contains(p.body, "argon2") {
		t.Error("the file holds a password's hash")
	}
	to := filepath.Join(t.TempDir(), "club.db")
	if err := store.ReadWhole(context.Background(), strings.NewReader(p.body), to, nil); err != nil {
		t.Error(err)
	}
	g.member(ada, "Cy", account.Crew).get("/club/data/everything.json").wants(http.StatusForbidden)
}

// TestKeepingTimes guards the form of times: errors beside the fields, what
// was typed kept, and the second of two editors told.
func TestKeepingTimes(t *testing.T) {
	v := visit(t)
	version := v.get("/club/data").value("Version")
	p := v.post("/club/data/keeping", "Version", version, "Answers", "1.5", "History", "241", "Contacts", "").wants(http.StatusUnprocessableEntity)
	if p.fault("Answers") == "" || p.fault("History") == "" || p.value("Answers") != "1.5" {
		t.Errorf("faults %q, answers %q", p.faults(), p.value("Answers"))
	}
	v.save("/club/data/keeping", "Version", version, "Answers", "6", "History", "0", "Contacts", "24")
	v.post("/club/data/keeping", "Version", version, "Answers", "7", "History", "0", "Contacts", "24").wants(http.StatusConflict)
	if said := text(v.get("/privacy").wants(http.StatusOK).all(tag("main"))[0]); !strings.Contains(said, "6 months after the night") || !strings.Contains(said, "for ever") {
		t.Errorf("the page of privacy says %q", said)
	}
}

// TestOwnDataByThePersonalLink guards what a volunteer can do without an
// account: see what is kept, and say who sees their contact data.
func TestOwnDataByThePersonalLink(t *testing.T) {
	ctx := context.Background()
	g := startGuarded(t, nil)
	ada := g.coordinator()
	fill(ada)
	z := crew.Volunteer{Name: "Zoë Example", Email: "zoe@club.example"}
	if err := g.store.SaveVolunteer(ctx, &z); err != nil {
		t.Fatal(err)
	}
	token := strings.Repeat("k", 32)
	if err := g.store.AddLink(ctx, z.ID, account.TokenHash(token), time.Now()); err != nil {
		t.Fatal(err)
	}
	zoe := g.browser()
	sound(t, "the own page", zoe.get("/c/"+token).wants(http.StatusOK))
	sound(t, "/privacy", zoe.get("/privacy").wants(http.StatusOK))
	var file struct{ Name string }
	if err := json.Unmarshal([]byte(zoe.get("/c/"+token+"/data.json").wants(http.StatusOK).body), &file); err != nil || file.Name != z.Name {
		t.Errorf("the file is of %q, %v", file.Name, err)
	}
	zoe.save("/c/"+token+"/consent", "agree", "yes")
	zoe.post("/c/"+token+"/consent", "agree", "perhaps").wants(http.StatusUnprocessableEntity)
	got, err := g.store.Volunteer(ctx, z.ID)
	if err != nil || !got.Share {
		t.Errorf("after consent: %+v, %v", got, err)
	}
	cs, err := g.store.Consents(ctx, z.ID)
	if err != nil || len(cs) != 1 || cs[0].Who != z.Name {
		t.Errorf("consents %+v, %v", cs, err)
	}
	zoe.get("/crew/1/data.json").wants(http.StatusSeeOther)
	zoe.get("/c/" + strings.Repeat("x", 32) + "/data.json").wants(http.StatusNotFound)
}

var elsewhere = regexp.MustCompile(`(?i)(?:https?:)?//[a-z0-9.-]+\.[a-z]{2,}`)

// TestNoThirdParties walks the pages and every asset: nothing that a browser
// would load by itself comes from another host.
func TestNoThirdParties(t *testing.T) {
	v := visit(t)
	fill(v)
	seen := map[string]bool{}
	var follow func(path string)
	follow = func(path string) {
		if seen[path] || len(seen) > 150 {
			return
		}
		seen[path] = true
		p := v.get(path)
		if p.status != http.StatusOK {
			return
		}
		kind := p.header.Get("Content-Type")
		switch {
		case strings.Contains(kind, "css"), strings.Contains(kind, "javascript") && !bytes.Contains([]byte(path), []byte("htmx")):
			for _, m := range elsewhere.FindAllString(p.body, -1) {
				if !strings.Contains(m, "www.w3.org") { // the name of SVG, which is no address to load
					t.Errorf("%s names another host: %s", path, m)
				}
			}
			return
		case !strings.Contains(kind, "html"):
			return
		}
		for _, n := range p.all(func(n *html.Node) bool { return true }) {
			for _, a := range n.Attr {
				switch a.Key {
				case "src", "srcset", "poster", "data", "action", "formaction", "hx-get", "hx-post", "ping", "background":
				case "href":
					if n.Data == "a" && elsewhere.MatchString(a.Val) && !strings.HasPrefix(a.Val, "/") {
						continue // a link is followed by a person only
					}
				default:
					continue
				}
				if elsewhere.MatchString(a.Val) {
					t.Errorf("%s: <%s %s=%q> asks another host", path, n.Data, a.Key, a.Val)
				}
				if strings.HasPrefix(a.Val, "/") && a.Key != "action" && a.Key != "hx-post" && !strings.HasSuffix(a.Val, ".csv") {
					to, _, _ := strings.Cut(a.Val, "#")
					follow(to)
				}
			}
		}
		if csp := p.header.Get("Content-Security-Policy"); !strings.Contains(csp, "default-src 'self'") || elsewhere.MatchString(csp) {
			t.Errorf("%s: the policy lets other hosts in: %q", path, csp)
		}
	}
	for _, p := range append([]string{"/", "/about", "/club"}, append(everyPage, filledPages...)...) {
		follow(p)
	}
	if len(seen) < 60 {
		t.Errorf("only %d addresses were walked", len(seen))
	}
}
