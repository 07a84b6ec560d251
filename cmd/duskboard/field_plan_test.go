package main

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// spot is an instrument's place as the drawing in sight has it.
type spot struct {
	Key                  string
	X, Y, Queue          float64 // m, m, degrees
	Px, Py, EndX, EndY   float64 // its middle and the end of its line, CSS pixels
	Metre                float64 // CSS pixels
	Pinned, Current, May bool
}

const spotsJS = `(() => {
	const svg = [...document.querySelectorAll("#field-plan svg.plan")].find((s) => s.getBoundingClientRect().width > 0);
	const metre = svg.dataset.scale * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
	return [...svg.querySelectorAll(".place")].map((g) => {
		const a = g.querySelector(".legs").getBoundingClientRect(), b = g.querySelector(".turn-grip").getBoundingClientRect();
		return {Key: g.dataset.key, X: +g.dataset.x, Y: +g.dataset.y, Queue: +g.dataset.queue, Metre: metre, Pinned: g.classList.contains("pinned"),
			Current: g.hasAttribute("aria-current"), May: document.getElementById("field-plan").hasAttribute("data-may"),
			Px: a.x + a.width / 2, Py: a.y + a.height / 2, EndX: b.x + b.width / 2, EndY: b.y + b.height / 2};
	});
})()`

func (h boardHand) spots() []spot {
	h.t.Helper()
	all, err := chromedp.Run(h.ctx, chromedp.Evaluate[[]spot](spotsJS))
	if err != nil {
		h.t.Fatal(err)
	}
	return all
}

func (h boardHand) spot(key string) spot {
	h.t.Helper()
	for _, s := range h.spots() {
		if s.Key == key {
			return s
		}
	}
	h.t.Fatalf("no place of instrument %s on the drawing", key)
	return spot{}
}

// lone is the place with the most room around it, scrolled into sight: nothing
// lies over it.
func (h boardHand) lone() spot {
	h.t.Helper()
	all := h.spots()
	best, far := all[0], 0.0
	for _, s := range all {
		near := math.Inf(1)
		for _, o := range all {
			if o.Key != s.Key {
				near = min(near, math.Hypot(o.X-s.X, o.Y-s.Y))
			}
		}
		if near > far {
			best, far = s, near
		}
	}
	h.eval(`(document.querySelector("#field-plan svg.plan") && [...document.querySelectorAll("#field-plan svg.plan")].find((s) => s.getBoundingClientRect().width > 0).scrollIntoView({block: "center", behavior: "instant"}), "")`)
	return h.spot(best.Key)
}

func (h boardHand) pull(x, y, dx, dy float64) {
	h.t.Helper()
	h.do("drag",
		chromedp.MouseEvent(chromedp.MouseMoved, x, y),
		chromedp.MouseEvent(chromedp.MousePressed, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1)),
		chromedp.MouseEvent(chromedp.MouseMoved, x+dx/2, y+dy/2, chromedp.ButtonLeft),
		chromedp.MouseEvent(chromedp.MouseMoved, x+dx, y+dy, chromedp.ButtonLeft),
		chromedp.MouseEvent(chromedp.MouseReleased, x+dx, y+dy, chromedp.ButtonLeft, chromedp.ClickCount(1)))
}

func (h boardHand) holdPlace(key string) {
	h.eval(fmt.Sprintf(`([...document.querySelectorAll('.place[data-key="%s"]')].find((g) => g.getBoundingClientRect().width > 0).focus(), "")`, key))
}

// TestFieldByHand takes hold of the field as a coordinator does: drags an
// instrument, takes that back, moves, turns and pins it by keyboard, and lets
// places be suggested around it.
func TestFieldByHand(t *testing.T) {
	h := boardHand{t, browser(t)}
	base := started(t, append([]string{"--demo"}, openFlags...)...)
	h.do("open", chromedp.Navigate(base+"/nights/1/field"), chromedp.WaitVisible(".plan-wide .place"))
	h.until("script", func() bool { return h.eval(`document.documentElement.className`) == "scripted" })
	s := h.lone()
	near := func(key string, x, y float64) func() bool {
		return func() bool { n := h.spot(key); return math.Hypot(n.X-x, n.Y-y) < 0.25 }
	}
	h.pull(s.Px, s.Py, -2*s.Metre, -3*s.Metre)
	h.until("drag two metres west and three north", near(s.Key, s.X-2, s.Y+3))
	if w := h.eval(`document.querySelector("#plan-says").innerText`); !strings.Contains(w, "is moved") {
		t.Errorf("after the drag the page says %q", w)
	}
	h.do("Ctrl-Z", chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	h.until("undo", near(s.Key, s.X, s.Y))
	h.do("Ctrl-Y", chromedp.KeyEvent("y", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	h.until("redo", near(s.Key, s.X-2, s.Y+3))

	h.holdPlace(s.Key)
	h.do("two arrows", chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight))
	h.until("a metre east by keys", near(s.Key, s.X-1, s.Y+3))
	before := h.spot(s.Key)
	h.holdPlace(s.Key)
	h.do("R", chromedp.KeyEvent("r"))
	h.until("turn the line by key", func() bool { return math.Abs(math.Mod(h.spot(s.Key).Queue-before.Queue+360, 360)-22.5) < 0.2 })
	h.holdPlace(s.Key)
	h.do("P", chromedp.KeyEvent("p"))
	h.until("pin by key", func() bool { return h.spot(s.Key).Pinned })
	kept := h.spot(s.Key)
	h.do("suggest", chromedp.Click("[data-testid=suggest]"))
	h.until("suggest", func() bool {
		return strings.Contains(h.eval(`document.querySelector("#plan-says").innerText`), "suggested")
	})
	if now := h.spot(s.Key); now.X != kept.X || now.Y != kept.Y || !now.Pinned {
		t.Errorf("the pinned place was at %.1f %.1f and is at %.1f %.1f", kept.X, kept.Y, now.X, now.Y)
	}
	if other := h.eval(`document.activeElement?.dataset?.testid ?? ""`); other != "suggest" {
		t.Errorf("after the suggestion the focus is on %q", other)
	}
}

// TestFieldByTouch is on a phone: what is not selected lets the page scroll, a
// tap selects the nearest.
func TestFieldByTouch(t *testing.T) {
	h := boardHand{t, browser(t)}
	base := started(t, append([]string{"--demo"}, openFlags...)...)
	h.do("open", chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch), chromedp.Navigate(base+"/nights/1/field"), chromedp.WaitVisible(".plan-narrow .place"))
	h.until("script", func() bool { return h.eval(`document.documentElement.className`) == "scripted" })
	s := h.lone()
	h.finger(s.Px, s.Py, s.Px-40, s.Py)
	if now := h.spot(s.Key); now.X != s.X || now.Y != s.Y {
		t.Errorf("a place that is not selected was moved to %.1f %.1f", now.X, now.Y)
	}
	s = h.lone()
	time.Sleep(time.Second) // or the browser takes it for the second of a double tap
	h.do("tap", chromedp.TapXY(s.Px, s.Py))
	h.until("select by tap", func() bool { return h.spot(s.Key).Current })
	was := h.spot(s.Key)
	h.eval(fmt.Sprintf(`([...document.querySelectorAll('.place[data-key="%s"]')].find((b) => b.getBoundingClientRect().width > 0).scrollIntoView({block: "center", behavior: "instant"}), "")`, s.Key))
	s = h.spot(s.Key)
	h.finger(s.Px, s.Py, s.Px-20, s.Py)
	h.until("move by finger", func() bool { return h.spot(s.Key).X < was.X })
	if wide := h.eval(`document.documentElement.scrollWidth > innerWidth ? "wide" : ""`); wide != "" {
		t.Error("the page scrolls sideways on a phone")
	}
}

// TestGroundByHand drags a corner of a site's ground: the number in the form
// follows, and saving keeps it.
func TestGroundByHand(t *testing.T) {
	h := boardHand{t, browser(t)}
	base := started(t, append([]string{"--demo"}, openFlags...)...)
	h.do("open", chromedp.Navigate(base+"/sites/1/ground"), chromedp.WaitVisible("#ground-drawing .handle"))
	h.until("script", func() bool { return h.eval(`document.documentElement.className`) == "scripted" })
	willow := `document.querySelectorAll("#ground-drawing .handle[data-feature='5'] .knob")[0].getBoundingClientRect()`
	at, err := chromedp.Run(h.ctx, chromedp.Evaluate[[]float64](`(() => { document.getElementById("ground-drawing").scrollIntoView({block: "center", behavior: "instant"});
		const r = `+willow+`, svg = document.querySelector("#ground-drawing svg");
		return [r.x + r.width / 2, r.y + r.height / 2, svg.dataset.scale * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width]; })()`))
	if err != nil {
		t.Fatal(err)
	}
	h.pull(at[0], at[1], 4*at[2], 0)
	h.until("drag the willow four metres east", func() bool { return h.eval(`document.getElementById("5.At").value`) == "34 37" })
	h.until("redrawn", func() bool {
		return h.eval(`document.querySelector("#ground-drawing .handle[data-feature='5']").dataset.x`) == "34"
	})
	h.do("arrow", chromedp.KeyEvent(kb.ArrowDown))
	h.until("half a metre south by key", func() bool { return h.eval(`document.getElementById("5.At").value`) == "34 36.5" })
	h.do("save", save())
	if v := h.eval(`document.getElementById("5.At").value`); v != "34 36.5" {
		t.Errorf("kept: %q", v)
	}
}
