package main

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// slip is a showing as the board on the screen has it.
type slip struct {
	Key            string
	From, To, Lane int
	Pinned         bool
	X, Y, Block    float64 // its middle and the width of a block on the screen, CSS pixels
	Blocks         int
}

// slipsJS reads the showings of the board that is in sight.
const slipsJS = `(() => {
	const svg = [...document.querySelectorAll("svg.board")].find((b) => b.getBoundingClientRect().width > 0);
	const lanes = [...svg.querySelectorAll(".lane")], scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
	const block = (svg.dataset.right - svg.dataset.left) / svg.dataset.blocks * scale;
	return [...svg.querySelectorAll(".bar-link[data-key]")].map((b) => {
		const r = b.querySelector(".bar").getBoundingClientRect(), y = r.y + r.height / 2;
		return {Key: b.dataset.key, From: +b.dataset.from, To: +b.dataset.to, Pinned: !!b.querySelector(".bar-inner"),
			X: r.x + r.width / 2, Y: y, Block: block, Blocks: +svg.dataset.blocks,
			Lane: lanes.findIndex((l) => { const q = l.getBoundingClientRect(); return y >= q.y && y <= q.bottom; })};
	});
})()`

// boardHand is somebody at the board.
type boardHand struct {
	t   *testing.T
	ctx context.Context
}

func (h boardHand) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	h.t.Helper()
	if err := chromedp.Do(h.ctx, steps...); err != nil {
		h.t.Fatalf("%s: %v\n%s", what, err, h.says())
	}
}

func (h boardHand) eval(js string) string {
	h.t.Helper()
	v, err := chromedp.Run(h.ctx, chromedp.Evaluate[string](js))
	if err != nil {
		h.t.Fatalf("%s: %v", js, err)
	}
	return v
}

func (h boardHand) says() string {
	return h.eval(`document.getElementById("board-says")?.innerText ?? document.body.innerText`)
}

func (h boardHand) slips() []slip {
	h.t.Helper()
	all, err := chromedp.Run(h.ctx, chromedp.Evaluate[[]slip](slipsJS))
	if err != nil {
		h.t.Fatal(err)
	}
	return all
}

func (h boardHand) slip(key string) (slip, bool) {
	for _, s := range h.slips() {
		if s.Key == key {
			return s, true
		}
	}
	return slip{}, false
}

// until waits for the board to be as wanted.
func (h boardHand) until(what string, is func() bool) {
	h.t.Helper()
	for range 400 {
		if is() {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	h.t.Fatalf("%s: not within twenty seconds; the board says %q", what, h.says())
}

// drag takes a showing by its middle, once the page is scrolled so that
// nothing lies over it.
func (h boardHand) drag(s slip, dx, dy float64) {
	h.t.Helper()
	h.eval(fmt.Sprintf(`([...document.querySelectorAll('.bar-link[data-key="%s"]')].find((b) => b.getBoundingClientRect().width > 0).scrollIntoView({block: "center", behavior: "instant"}), "")`, s.Key))
	s, _ = h.slip(s.Key)
	h.do("drag",
		chromedp.MouseEvent(chromedp.MouseMoved, s.X, s.Y),
		chromedp.MouseEvent(chromedp.MousePressed, s.X, s.Y, chromedp.ButtonLeft, chromedp.ClickCount(1)),
		chromedp.MouseEvent(chromedp.MouseMoved, s.X+dx/2, s.Y+dy/2, chromedp.ButtonLeft),
		chromedp.MouseEvent(chromedp.MouseMoved, s.X+dx, s.Y+dy, chromedp.ButtonLeft),
		chromedp.MouseEvent(chromedp.MouseReleased, s.X+dx, s.Y+dy, chromedp.ButtonLeft, chromedp.ClickCount(1)))
}

func (h boardHand) focus(key string) {
	h.eval(fmt.Sprintf(`(() => { const b = [...document.querySelectorAll('.bar-link[data-key="%s"]')].find((b) => b.getBoundingClientRect().width > 0); b.focus(); return ""; })()`, key))
}

// TestBoardByHand takes hold of the board as a coordinator does: drags a slip,
// takes that back, and does the rest by keyboard. Each change must say what it
// costs.
func TestBoardByHand(t *testing.T) {
	h := boardHand{t, browser(t)}
	base := started(t, append([]string{"--demo"}, openFlags...)...)
	h.do("open", chromedp.Navigate(base+"/nights/1/line-up"), press("[data-testid=propose]"), chromedp.WaitVisible(".board-wide .bar-link"))

	// A slip that has room to the right, to be shortened first so that its
	// later moves stay within the hours.
	var s slip
	for _, x := range h.slips() {
		if x.To < x.Blocks && x.To-x.From >= 2 {
			s = x
			break
		}
	}
	if s.Key == "" {
		t.Fatal("no showing of the proposal ends before the last block")
	}
	h.drag(s, s.Block, 0)
	h.until("drag a block to the right", func() bool {
		now, ok := h.slip(s.Key)
		return ok && now.From == s.From+1 && now.To == s.To+1 && now.Lane == s.Lane
	})
	if w := h.says(); !strings.Contains(w, "look") {
		t.Errorf("after the drag the board says %q: no cost in looks", w)
	}
	h.do("Ctrl-Z", chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	h.until("undo", func() bool { now, ok := h.slip(s.Key); return ok && now.From == s.From && now.To == s.To })
	h.do("Ctrl-Y", chromedp.KeyEvent("y", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	h.until("redo", func() bool { now, ok := h.slip(s.Key); return ok && now.From == s.From+1 })

	h.focus(s.Key)
	h.do("arrow", chromedp.KeyEvent(kb.ArrowLeft))
	h.until("move back by key", func() bool { now, ok := h.slip(s.Key); return ok && now.From == s.From && now.To == s.To })
	h.focus(s.Key)
	h.do("shift and arrow", chromedp.KeyEvent(kb.ArrowLeft, chromedp.KeyModifiers(chromedp.ModifierShift)))
	h.until("shorten by key", func() bool { now, ok := h.slip(s.Key); return ok && now.From == s.From && now.To == s.To-1 })
	h.focus(s.Key)
	h.do("P", chromedp.KeyEvent("p"))
	h.until("pin by key", func() bool { now, ok := h.slip(s.Key); return ok && now.Pinned })

	// Another lane, by drag.
	now, _ := h.slip(s.Key)
	var other slip
	for _, x := range h.slips() {
		if x.Lane == now.Lane+1 || x.Lane == now.Lane-1 {
			other = x
			break
		}
	}
	h.drag(now, 0, other.Y-now.Y)
	h.until("drag to another instrument", func() bool { x, ok := h.slip(s.Key); return ok && x.Lane == other.Lane && x.From == now.From })
	h.do("Ctrl-Z", chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	h.until("undo the other instrument", func() bool { x, ok := h.slip(s.Key); return ok && x.Lane == now.Lane })

	// S, then another one: they change places.
	other, _ = h.slip(other.Key)
	h.focus(s.Key)
	h.do("S", chromedp.KeyEvent("s"), chromedp.MouseClickXY(other.X, other.Y))
	h.until("swap", func() bool {
		a, ok := h.slip(s.Key)
		b, too := h.slip(other.Key)
		return ok && too && a.Lane == other.Lane && b.Lane == now.Lane
	})

	// Reload: undo is kept on the server.
	h.do("reload", chromedp.Navigate(base+"/nights/1/line-up"), chromedp.WaitVisible(".board-wide .bar-link"))
	h.until("script", func() bool { return h.eval(`document.querySelector("svg.board") ? "y" : ""`) == "y" })
	h.focus(s.Key)
	h.do("Delete", chromedp.KeyEvent(kb.Delete))
	h.until("clear by key", func() bool { _, ok := h.slip(s.Key); return !ok })
	for _, label := range []string{"clear", "swap"} {
		h.do("Ctrl-Z", chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
		h.until("undo "+label, func() bool { return strings.Contains(h.says(), "Taken back: "+label) })
	}
	if x, ok := h.slip(s.Key); !ok || x.Lane != now.Lane || !x.Pinned {
		t.Errorf("after all is undone the showing is %+v, want it pinned in lane %d", x, now.Lane)
	}
}

// TestBoardByTouch is the same on a phone: a slip that is not selected lets the
// page scroll; a tap selects it, and then a finger moves it.
func TestBoardByTouch(t *testing.T) {
	h := boardHand{t, browser(t)}
	base := started(t, append([]string{"--demo"}, openFlags...)...)
	h.do("open", chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch), chromedp.Navigate(base+"/nights/1/line-up"), chromedp.WaitVisible(".board-narrow .bar-link"))
	var s slip
	for _, x := range h.slips() {
		if x.To-x.From >= 3 && (x.To == x.Blocks || x.From == 0) {
			s = x
			break
		}
	}
	if s.Key == "" {
		t.Fatal("no showing of three blocks on the demo's board")
	}
	middle := func() slip {
		h.eval(fmt.Sprintf(`([...document.querySelectorAll('.bar-link[data-key="%s"]')].find((b) => b.getBoundingClientRect().width > 0).scrollIntoView({block: "center", behavior: "instant"}), "")`, s.Key))
		x, _ := h.slip(s.Key)
		return x
	}
	x := middle()
	h.finger(x.X, x.Y, x.X-x.Block, x.Y)
	if now, _ := h.slip(s.Key); now.From != s.From || now.To != s.To {
		t.Errorf("a slip that is not selected was moved to %d-%d", now.From, now.To)
	}
	x = middle()
	time.Sleep(time.Second) // or the browser takes it for the second of a double tap
	h.do("tap", chromedp.TapXY(x.X, x.Y))
	h.until("select by tap", func() bool {
		return h.eval(`document.querySelector(".dock")?.dataset.key ?? ""`) == s.Key
	})
	// Its right or left edge by a block, where it has room to shrink.
	x = middle()
	edge, step := x.X+float64(x.To-x.From)*x.Block/2, -x.Block
	want := [2]int{s.From, s.To - 1}
	h.finger(edge-1, x.Y, edge-1+step, x.Y)
	h.until("shorten by finger", func() bool { now, ok := h.slip(s.Key); return ok && now.From == want[0] && now.To == want[1] })
	x = middle()
	h.finger(x.X, x.Y, x.X+x.Block, x.Y)
	h.until("move by finger", func() bool { now, ok := h.slip(s.Key); return ok && now.From == want[0]+1 && now.To == want[1]+1 })
	if wide := h.eval(`document.documentElement.scrollWidth > innerWidth ? "wide" : ""`); wide != "" {
		t.Error("the page scrolls sideways on a phone")
	}
}

// finger drags by touch, with real touch events.
func (h boardHand) finger(x1, y1, x2, y2 float64) {
	h.t.Helper()
	touch := func(kind input.DispatchTouchEventType, points ...*input.TouchPoint) chromedp.Action[chromedp.Void] {
		return chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
			_, err := cdp.Call(ctx, tab, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: append([]*input.TouchPoint{}, points...)})
			return err
		})
	}
	h.do("finger",
		touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x1, Y: y1}),
		touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: (x1 + x2) / 2, Y: (y1 + y2) / 2}),
		touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x2, Y: y2}),
		touch(input.DispatchTouchEventTypeTouchEnd))
}

// TestBoardToldOfAChange guards that a change decided on before an older
// line-up is refused in words, and what somebody else did stays.
func TestBoardToldOfAChange(t *testing.T) {
	h := boardHand{t, browser(t)}
	base := started(t, append([]string{"--demo"}, openFlags...)...)
	h.do("open", chromedp.Navigate(base+"/nights/1/line-up"), press("[data-testid=propose]"), chromedp.WaitVisible(".board-wide .bar-link"))
	s := h.slips()[0]
	// Somebody else clears all the others, in another window.
	h.eval(`fetch(document.getElementById("line-up").dataset.base + "/clear", {method: "POST"}).then(() => document.body.dataset.cleared = "1"), ""`)
	h.until("the other window", func() bool { return h.eval(`document.body.dataset.cleared ?? ""`) == "1" })
	h.focus(s.Key)
	h.do("P", chromedp.KeyEvent("p"))
	h.until("refusal", func() bool { return h.eval(`document.querySelector("[data-testid=refused]")?.innerText ?? ""`) != "" })
	if w := h.says(); !strings.Contains(w, "Not") || h.eval(`document.querySelector("[data-testid=refused] a")?.getAttribute("href") ?? ""`) != "/nights/1/line-up" {
		t.Errorf("the refusal %q leads nowhere", w)
	}
	if len(h.slips()) < 2 {
		t.Error("the board that was looked at is gone")
	}
}
