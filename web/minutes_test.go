package web_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"
)

// The keystroke-level model of Card, Moran & Newell (1980, Comm. ACM 23, 396):
// a key by a typist of 40 words a minute, pointing with a mouse, pressing and
// releasing its button, moving a hand between mouse and keys, getting ready.
const (
	oneKey   = 280 * time.Millisecond
	onePoint = 1100 * time.Millisecond
	onePress = 200 * time.Millisecond
	oneHand  = 400 * time.Millisecond
	oneThink = 1350 * time.Millisecond
	// onePage is our allowance for reading a page that was never seen before;
	// the model leaves reading out.
	onePage = 20 * time.Second
)

// newcomer goes by what stands on the pages alone and is timed by the model.
type newcomer struct {
	*visitor
	at    page
	where string
	spent time.Duration
	pages int
	boxes int
}

func (n *newcomer) arrive(path string) {
	n.t.Helper()
	n.at, n.where = n.get(path).wants(http.StatusOK), path
	n.pages++
	n.spent += onePage
}

func (n *newcomer) click() { n.spent += oneThink + onePoint + onePress }

// follow opens a link, which the page must have.
func (n *newcomer) follow(path string) {
	n.t.Helper()
	if len(n.at.all(having("href", path))) == 0 {
		n.t.Fatalf("%s does not lead to %s", n.where, path)
	}
	n.click()
	n.arrive(path)
}

// send types into boxes of a form on the page, leaves the others as they came,
// presses the form's button and goes where the answer leads.
func (n *newcomer) send(path string, typed ...string) {
	n.t.Helper()
	forms := n.at.all(func(x *html.Node) bool { return x.Data == "form" && attr(x, "action") == path })
	if len(forms) == 0 {
		n.t.Fatalf("%s has no form for %s", n.where, path)
	}
	form := asItCame(forms[0])
	for _, f := range forms[1:] { // a preview has the form to look again, and the one that keeps
		if again := asItCame(f); again.Has("keep") {
			form = again
		}
	}
	for i := 0; i+1 < len(typed); i += 2 {
		if _, there := form[typed[i]]; !there {
			n.t.Fatalf("the form for %s has no box %q", path, typed[i])
		}
		form.Set(typed[i], typed[i+1])
		n.boxes++
		n.spent += oneThink + onePoint + onePress + 2*oneHand + time.Duration(len(typed[i+1]))*oneKey
	}
	n.press(path, form)
}

// press sends a form as it is and goes where the answer leads.
func (n *newcomer) press(path string, form url.Values) {
	n.t.Helper()
	n.click()
	var pairs []string
	for name, values := range form {
		for _, v := range values {
			pairs = append(pairs, name, v)
		}
	}
	to, _, _ := strings.Cut(n.save(path, pairs...), "#")
	n.arrive(to)
}

// asItCame is what a browser would send of a form that nobody touched.
func asItCame(form *html.Node) url.Values {
	out := url.Values{}
	for x := range form.Descendants() {
		name, kind := attr(x, "name"), attr(x, "type")
		switch {
		case name == "":
		case x.Data == "button":
			out.Add(name, attr(x, "value"))
		case x.Data == "textarea":
			words := ""
			if x.FirstChild != nil {
				words = x.FirstChild.Data
			}
			out.Add(name, words)
		case x.Data == "select":
			chosen, first := "", true
			for o := range x.Descendants() {
				if o.Data == "option" && (first || hasAttr(o, "selected")) {
					chosen, first = attr(o, "value"), false
				}
			}
			out.Add(name, chosen)
		case x.Data == "input" && (kind == "checkbox" || kind == "radio"):
			if hasAttr(x, "checked") {
				out.Add(name, attr(x, "value"))
			}
		case x.Data == "input" && kind != "file":
			out.Add(name, attr(x, "value"))
		}
	}
	return out
}

func hasAttr(n *html.Node, name string) bool {
	return slices.ContainsFunc(n.Attr, func(a html.Attribute) bool { return a.Key == name })
}

// tenTelescopes is a club's kit and crew as somebody kept them in a
// spreadsheet; invented.
const tenTelescopes = `kind,name,design,aperture,focallength,mount,apparentfield,barrel,count
instrument,One,newtonian,203,1200,rocker-box,,,
instrument,Two,newtonian,254,1200,rocker-box,,,
instrument,Three,newtonian,150,750,german-equatorial,,,
instrument,Four,achromat,102,1000,german-equatorial,,,
instrument,Five,achromat,80,400,alt-az-hand,,,
instrument,Six,schmidt-cassegrain,203,2032,alt-az-goto,,,
instrument,Seven,maksutov-cassegrain,127,1500,alt-az-goto,,,
instrument,Eight,apochromat,100,740,alt-az-hand,,,
instrument,Nine,newtonian,305,1500,rocker-box,,,
instrument,Ten,newtonian,114,500,rocker-box,,,
eyepiece,Long,,,32,,50,1.25in,3
eyepiece,Wide,,,25,,60,1.25in,5
eyepiece,Middle,,,15,,60,1.25in,5
eyepiece,Short,,,9,,60,1.25in,4
diagonal,Mirror,,,,,,1.25in,5
`

// TestTenTelescopesToCardsInTenMinutes goes from an empty program to the
// printed set by what the pages offer, and counts a newcomer's time.
func TestTenTelescopesToCardsInTenMinutes(t *testing.T) {
	n := &newcomer{visitor: visit(t)}
	n.arrive("/")
	n.follow("/sites/new")
	n.send("/sites", "Name", "Heron Meadow", "Lat", "52.5163 N", "Lon", "13.3777 E", "Step", "4")
	n.follow("/kit")
	n.follow("/kit/import")
	n.click() // choose the file
	n.at, n.where = n.sendFile("/kit/import", "kit.csv", tenTelescopes).wants(http.StatusOK), "the preview"
	n.pages++
	n.spent += onePage
	n.send("/kit/import")
	n.follow("/nights")
	n.follow("/nights/new")
	n.send("/nights")
	night := strings.TrimSuffix(n.where, "/choose")
	if n.where != night {
		n.send(night + "/choose")
	}
	if n.where != night+"/line-up" {
		n.follow(night + "/line-up")
	}
	n.send(night + "/line-up/propose")
	n.follow(night + "/cards")
	n.follow(night + "/print")
	cards := map[string]bool{}
	for _, x := range []string{"One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten"} {
		for _, h := range n.at.all(func(e *html.Node) bool { return e.Data == "h2" || e.Data == "h1" || e.Data == "h3" }) {
			cards[x] = cards[x] || strings.Contains(text(h), x)
		}
		if !cards[x] {
			t.Errorf("no card for %s", x)
		}
	}
	t.Logf("%d pages, %d boxes typed in, %v", n.pages, n.boxes, n.spent.Round(time.Second))
	if n.spent > 10*time.Minute {
		t.Errorf("a newcomer needs %v over %d pages and %d boxes", n.spent.Round(time.Second), n.pages, n.boxes)
	}
}
