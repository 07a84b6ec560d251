package main

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// turn is a duty as the board of the roster has it on the screen.
type turn struct {
	Key, Person string
	From, To    int64 // seconds since 1970
	Pinned      bool
	X, Y, Block float64 // its middle and the width of a step, CSS pixels
}

// turnsJS reads the duties of the board that is in sight, but for one that is
// drawn where the server has not put it yet.
const turnsJS = `(() => {
	const svg = [...document.querySelectorAll("svg.roster-board")].find((b) => b.getBoundingClientRect().width > 0);
	const lanes = [...svg.querySelectorAll(".lane")], d = svg.dataset, scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
	const block = (d.right - d.left) / (d.end - d.start) * d.step * scale;
	return [...svg.querySelectorAll(".bar-link[data-key]:not(.held)")].map((b) => {
		const r = b.querySelector(".bar").getBoundingClientRect(), y = r.y + r.height / 2;
		const lane = lanes.find((l) => { const q = l.getBoundingClientRect(); return y >= q.y && y <= q.bottom; });
		return {Key: b.dataset.key, Person: lane.dataset.person, From: +b.dataset.from, To: +b.dataset.to,
			Pinned: !!b.querySelector(".bar-inner"), X: r.x + r.width / 2, Y: y, Block: block};
	});
})()`

// rosterHand is somebody at the board of the roster.
type rosterHand struct{ boardHand }

func (h rosterHand) turns() []turn {
	h.t.Helper()
	all, err := chromedp.Run(h.ctx, chromedp.Evaluate[[]turn](turnsJS))
	if err != nil {
		h.t.Fatal(err)
	}
	return all
}

func (h rosterHand) turn(key string) turn {
	h.t.Helper()
	for _, x := range h.turns() {
		if x.Key == key {
			return x
		}
	}
	return turn{}
}

func (h rosterHand) told() string {
	return h.eval(`document.getElementById("roster-says")?.innerText ?? document.body.innerText`)
}

func (h rosterHand) wait(what string, is func() bool) {
	h.t.Helper()
	for range 400 {
		if is() {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	h.t.Fatalf("%s: not within twenty seconds; the board says %q", what, h.told())
}

// center scrolls a duty to the middle of the window and says where it is then.
func (h rosterHand) center(key string) turn {
	h.t.Helper()
	h.eval(fmt.Sprintf(`([...document.querySelectorAll('.roster-board .bar-link[data-key="%s"]')].find((b) => b.getBoundingClientRect().width > 0).scrollIntoView({block: "center", behavior: "instant"}), "")`, key))
	return h.turn(key)
}

func (h rosterHand) mouse(key string, dx, dy float64) {
	h.t.Helper()
	s := h.center(key)
	h.do("drag",
		chromedp.MouseEvent(chromedp.MouseMoved, s.X, s.Y),
		chromedp.MouseEvent(chromedp.MousePressed, s.X, s.Y, chromedp.ButtonLeft, chromedp.ClickCount(1)),
		chromedp.MouseEvent(chromedp.MouseMoved, s.X+dx/2, s.Y+dy/2, chromedp.ButtonLeft),
		chromedp.MouseEvent(chromedp.MouseMoved, s.X+dx, s.Y+dy, chromedp.ButtonLeft),
		chromedp.MouseEvent(chromedp.MouseReleased, s.X+dx, s.Y+dy, chromedp.ButtonLeft, chromedp.ClickCount(1)))
}

func (h rosterHand) key(key string, step chromedp.Action[chromedp.Void]) {
	h.t.Helper()
	h.eval(fmt.Sprintf(`([...document.querySelectorAll('.roster-board .bar-link[data-key="%s"]')].find((b) => b.getBoundingClientRect().width > 0).focus(), "")`, key))
	h.do("key", step)
}

var ctrlZ = chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))

// insist presses the button that does what breaks a rule all the same, when it
// is offered.
func (h rosterHand) insist() {
	h.t.Helper()
	h.eval(`(document.querySelector("#roster-says form button")?.click(), "")`)
}

// free finds somebody without a duty at the time of another one, and the middle
// of their lane; "" when there is nobody.
func (h rosterHand) free(of turn) (person string, y float64) {
	h.t.Helper()
	busy := map[string]bool{}
	for _, x := range h.turns() {
		if x.From < of.To && of.From < x.To {
			busy[x.Person] = true
		}
	}
	for _, line := range strings.Split(h.eval(`[...[...document.querySelectorAll("svg.roster-board")].find((b) => b.getBoundingClientRect().width > 0).querySelectorAll(".lane")].map((l) => l.dataset.person + " " + (l.getBoundingClientRect().y + l.getBoundingClientRect().height / 2)).join("\n")`), "\n") {
		var at float64
		var who string
		if _, err := fmt.Sscan(line, &who, &at); err == nil && !busy[who] {
			return who, at
		}
	}
	return "", 0
}

// pair finds two duties of two people which each could do without being in two
// places.
func (h rosterHand) pair() (turn, turn) {
	h.t.Helper()
	all := h.turns()
	clash := func(a, b turn) bool { // whoever has a takes b instead
		for _, x := range all {
			if x.Person == a.Person && x.Key != a.Key && x.From < b.To && b.From < x.To {
				return true
			}
		}
		return false
	}
	for _, a := range all {
		for _, b := range all {
			if a.Person != b.Person && !clash(a, b) && !clash(b, a) {
				return a, b
			}
		}
	}
	h.t.Fatal("no two duties can be exchanged")
	return turn{}, turn{}
}

// TestRosterByHand takes hold of the roster as a coordinator does: drags a duty
// to another time and another person, is told of what that breaks at once,
// takes it back, and does the same by keyboard.
func TestRosterByHand(t *testing.T) {
	h := rosterHand{boardHand{t, browser(t)}}
	base := started(t, append([]string{"--demo"}, openFlags...)...)
	h.do("open", chromedp.Navigate(base+"/nights/1/roster"), press("form[action$='/roster/propose'] button"), chromedp.WaitVisible("[data-testid=flash]"), chromedp.WaitVisible(".board-wide .bar-link"))
	// The longest duty has room to be made shorter.
	var s turn
	for _, x := range h.turns() {
		if x.To-x.From > s.To-s.From {
			s = x
		}
	}
	step := int64(0)
	if n := h.eval(`document.querySelector("svg.roster-board").dataset.step`); n != "" {
		if _, err := fmt.Sscan(n, &step); err != nil {
			t.Fatal(err)
		}
	}
	if step < 300 || s.To-s.From < 2*step {
		t.Fatalf("step %d s, duty %+v", step, s)
	}

	// By key: shorter, then later by a step, each one undone.
	h.key(s.Key, chromedp.KeyEvent(kb.ArrowLeft, chromedp.KeyModifiers(chromedp.ModifierShift)))
	h.wait("shorten by key", func() bool { h.insist(); return h.turn(s.Key).To == s.To-step })
	h.mouse(s.Key, s.Block, 0)
	h.wait("drag a step to the right", func() bool {
		h.insist()
		now := h.turn(s.Key)
		return now.From == s.From+step && now.To == s.To && now.Person == s.Person
	})
	if w := h.told(); !strings.Contains(w, "rule") {
		t.Errorf("after the drag the board says %q: nothing of rules", w)
	}
	h.do("Ctrl-Z", ctrlZ)
	h.wait("undo the drag", func() bool { return h.turn(s.Key).From == s.From && strings.Contains(h.told(), "Taken back") })
	h.do("Ctrl-Z", ctrlZ)
	h.wait("undo the key", func() bool { return h.turn(s.Key).To == s.To })
	h.do("Ctrl-Y", chromedp.KeyEvent("y", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	h.wait("redo", func() bool { return h.turn(s.Key).To == s.To-step })
	h.do("Ctrl-Z", ctrlZ)
	h.wait("undo again", func() bool { return h.turn(s.Key).To == s.To })

	// Onto somebody who is busy then: refused in words, whatever is insisted.
	var other turn
	for _, x := range h.turns() {
		if x.Person != s.Person && x.From < s.To && s.From < x.To {
			other = x
			break
		}
	}
	now := h.center(s.Key)
	other = h.turn(other.Key)
	h.mouse(s.Key, 0, other.Y-now.Y)
	h.wait("refusal", func() bool {
		return h.eval(`document.querySelector("#roster-says [data-testid=refused]")?.innerText ?? ""`) != ""
	})
	if w := h.told(); !strings.Contains(w, " then, ") || h.turn(s.Key).Person != s.Person || h.eval(`document.querySelector("#roster-says form") ? "insist" : ""`) != "" {
		t.Errorf("in two places: %q, the duty is with %s", w, h.turn(s.Key).Person)
	}

	// Onto somebody who is free: it goes, at once or when insisted on.
	moved := false
	for _, x := range h.turns() {
		now = h.center(x.Key)
		who, y := h.free(now)
		if who == "" {
			continue
		}
		moved = true
		h.mouse(x.Key, 0, y-now.Y)
		h.wait("drag to somebody else", func() bool { h.insist(); return h.turn(x.Key).Person == who })
		h.do("Ctrl-Z", ctrlZ)
		h.wait("undo the other person", func() bool { return h.turn(x.Key).Person == x.Person })
		break
	}
	if !moved {
		t.Error("in the demo nobody is free beside any duty: nothing was tried")
	}

	// S and another one: they exchange.
	s, other = h.pair()
	h.key(s.Key, chromedp.KeyEvent("s"))
	h.key(other.Key, chromedp.KeyEvent(kb.Enter))
	h.wait("exchange", func() bool {
		h.insist()
		return h.turn(s.Key).Person == other.Person && h.turn(other.Key).Person == s.Person
	})
	h.key(s.Key, chromedp.KeyEvent("p"))
	h.wait("pin", func() bool { return h.turn(s.Key).Pinned })
	h.key(s.Key, chromedp.KeyEvent(kb.Delete))
	h.wait("take away", func() bool { return h.turn(s.Key).Key == "" })
	for range 3 {
		h.do("Ctrl-Z", ctrlZ)
	}
	h.wait("undo all", func() bool { x := h.turn(s.Key); return x.Person == s.Person && !x.Pinned })
}

// TestRosterByTouch is the same with a finger on a phone: a tap selects, then a
// finger moves; a duty that is not selected lets the page scroll.
func TestRosterByTouch(t *testing.T) {
	h := rosterHand{boardHand{t, browser(t)}}
	base := started(t, append([]string{"--demo"}, openFlags...)...)
	h.do("open", chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch), chromedp.Navigate(base+"/nights/1/roster"),
		press("form[action$='/roster/propose'] button"), chromedp.WaitVisible("[data-testid=flash]"), chromedp.WaitVisible(".board-narrow .bar-link"))
	var s turn
	for _, x := range h.turns() {
		if x.To-x.From > s.To-s.From {
			s = x
		}
	}
	x := h.center(s.Key)
	h.finger(x.X, x.Y, x.X-2*x.Block, x.Y)
	if now := h.turn(s.Key); now.From != s.From || now.To != s.To {
		t.Errorf("a duty that is not selected was moved: %+v", now)
	}
	const selected = `document.querySelector("#roster-dock:not([hidden]) [data-held]")?.innerText ?? ""`
	for range 5 { // a loaded machine may lose a tap
		x = h.center(s.Key)
		time.Sleep(time.Second) // or the browser takes it for the second of a double tap
		h.do("tap", chromedp.TapXY(x.X, x.Y))
		time.Sleep(time.Second)
		if h.eval(selected) != "" {
			break
		}
	}
	if h.eval(selected) == "" {
		t.Fatal("a tap does not select")
	}
	x = h.center(s.Key)
	h.finger(x.X, x.Y, x.X+2*x.Block, x.Y)
	h.wait("move by finger", func() bool { h.insist(); return h.turn(s.Key).From > s.From })
	if wide := h.eval(`document.documentElement.scrollWidth > innerWidth ? "wide" : ""`); wide != "" {
		t.Error("the page scrolls sideways on a phone")
	}
}
