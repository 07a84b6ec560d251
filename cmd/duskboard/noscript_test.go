package main

import (
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// plain is somebody whose browser runs no scripts. It only follows links that
// stand on the page, and sends forms as they came, with what is typed put in.
type plain struct {
	t    *testing.T
	http http.Client
	at   *url.URL
	root *html.Node
}

func newPlain(t *testing.T) *plain {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &plain{t: t, http: http.Client{Jar: jar}}
}

func (p *plain) read(resp *http.Response, err error) {
	p.t.Helper()
	if err != nil {
		p.t.Fatal(err)
	}
	defer resp.Body.Close()
	if p.root, err = html.Parse(resp.Body); err != nil {
		p.t.Fatal(err)
	}
	p.at = resp.Request.URL
	if resp.StatusCode != http.StatusOK {
		p.t.Fatalf("%s %s answers %d: %s", resp.Request.Method, p.at.Path, resp.StatusCode, wordsOf(p.root))
	}
}

func (p *plain) open(address string) {
	p.t.Helper()
	p.read(p.http.Get(address))
}

// follow takes the first link of the page to the path; one that ends in "=" is
// only the beginning.
func (p *plain) follow(path string) {
	p.t.Helper()
	links := linksOf(p.root, p.at.Path)
	at := slices.IndexFunc(links, func(l string) bool { return l == path || strings.HasSuffix(path, "=") && strings.HasPrefix(l, path) })
	if at < 0 {
		p.t.Fatalf("no link to %s on %s, which has %q", path, p.at.Path, links)
	}
	p.open(p.at.Scheme + "://" + p.at.Host + links[at])
}

// send presses the button with the words, in the first form that has all the
// fields, after it filled them.
func (p *plain) send(button string, fields url.Values) {
	p.t.Helper()
	for n := range p.root.Descendants() {
		if n.Type != html.ElementNode || n.Data != "form" || attrOf(n, "method") != "post" {
			continue
		}
		values, names, pressed := formOf(n, button)
		if !pressed {
			continue
		}
		whole := true
		for name, v := range fields {
			whole = whole && slices.Contains(names, name)
			values[name] = v
		}
		if !whole {
			continue
		}
		action, err := p.at.Parse(attrOf(n, "action"))
		if err != nil {
			p.t.Fatal(err)
		}
		p.read(p.http.PostForm(action.String(), values))
		return
	}
	p.t.Fatalf("%s has no form with the button %q and the fields %v", p.at.Path, button, fields)
}

// formOf reads what a form would send as it came, by which names it has
// fields, and whether it has the button.
func formOf(form *html.Node, button string) (values url.Values, names []string, pressed bool) {
	values = url.Values{}
	for n := range form.Descendants() {
		if n.Type != html.ElementNode || hasAttr(n, "disabled") {
			continue
		}
		name := attrOf(n, "name")
		switch n.Data {
		case "input":
			kind := attrOf(n, "type")
			names = append(names, name)
			if name != "" && (kind != "checkbox" && kind != "radio" || hasAttr(n, "checked")) {
				values.Add(name, attrOf(n, "value"))
			}
		case "textarea":
			names = append(names, name)
			values.Add(name, wordsOf(n))
		case "select":
			names = append(names, name)
			chosen, found := "", false
			for o := range n.Descendants() {
				if o.Data == "option" && (!found || hasAttr(o, "selected")) {
					chosen, found = attrOf(o, "value"), true
				}
			}
			values.Add(name, chosen)
		case "button":
			if !pressed && wordsOf(n) == button && attrOf(n, "type") != "button" {
				pressed = true
				if name != "" {
					values.Add(name, attrOf(n, "value"))
				}
			}
		}
	}
	return values, names, pressed
}

// wordsOf is the text of an element, with single spaces.
func wordsOf(n *html.Node) string {
	var words []string
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			words = append(words, strings.Fields(d.Data)...)
		}
	}
	return strings.Join(words, " ")
}

func (p *plain) wants(words string) {
	p.t.Helper()
	if said := wordsOf(p.root); !strings.Contains(said, words) {
		p.t.Errorf("%s does not say %q: %s", p.at.Path, words, said)
	}
}

// TestWholeWayWithoutScript is the job of a coordinator and of one of the crew
// from an empty club to the departure check, by links and forms alone: what a
// browser does on a network too slow for scripts, or with scripts switched off.
func TestWholeWayWithoutScript(t *testing.T) {
	_, logs := startedWithLog(t, "--data", t.TempDir())
	p := newPlain(t)
	p.open(setupLink(t, logs))
	p.send("Make my account", url.Values{"name": {"Ada"}, "new": {"pears on the dome"}})

	p.follow("/sites")
	p.follow("/sites/new")
	p.send("Save the site", url.Values{"Name": {"Heron Meadow"}, "Lat": {"50°05'N"}, "Lon": {"9.31 E"}, "Zone": {"Europe/Berlin"}, "Measured": {"20.6"}})
	p.wants("Heron Meadow")
	p.follow("/kit")
	p.follow("/kit/instruments/new")
	p.send("Save", url.Values{"Design": {"newtonian"}, "Aperture": {"8 in"}, "FocalLength": {"f/6"}, "Mount": {"rocker-box"}, "Name": {"Bucket"}})
	p.follow("/kit")
	p.follow("/kit/eyepieces/new")
	p.send("Save", url.Values{"FocalLength": {"30"}, "ApparentField": {"70"}, "Barrel": {"2in"}, "Name": {"Window"}})
	p.wants("Window")
	p.follow("/crew")
	p.follow("/crew/new")
	p.send("Save", url.Values{"Name": {"Wim"}, "Roles": {"operator"}, "skill-mount-rocker-box": {"alone"}})
	p.wants("Wim")

	p.follow("/nights")
	p.follow("/nights/new")
	p.send("Plan this night", url.Values{"Date": {"2027-02-13"}, "From": {"19:00"}, "To": {"21:30"}, "Guests": {"60"}, "Name": {"First night"}})
	p.send("Save what to use", url.Values{"answer-1": {"yes"}})
	p.follow("/nights/1/line-up")
	p.send("Propose a line-up", url.Values{})
	p.wants("Bucket")
	p.follow("/nights/1/line-up?show=")
	p.send("Pin", url.Values{})
	p.send("Let go", url.Values{})
	p.follow("/nights/1/roster")
	p.send("Propose a roster", url.Values{})
	p.wants("Wim")
	p.follow("/nights/1/roster/duties/1")
	p.send("Pin", url.Values{})
	p.follow("/nights/1/roster")
	p.follow("/nights/1/departure")
	p.follow("/nights/1/departure/1")
	p.wants("Leave home by")
	p.send("Not me", url.Values{})
	p.wants("I bring it")
	p.send("I bring it", url.Values{})
}
