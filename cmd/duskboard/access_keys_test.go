package main

import (
	"context"
	"encoding/json"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// keysJS gets a page ready to be walked by the Tab key alone. It lists what the
// key must reach, notes how each thing looks without the focus, and watches
// what the focus does: whether it is seen (WCAG 2.2, 2.4.7) and whether
// something else lies over all of it (2.4.11). A group of radio buttons is one
// stop. Answers with how many stops there are.
const keysJS = `(() => {
	const name = (el) => el.tagName.toLowerCase() + (el.id ? "#" + el.id : "") + (el.name ? "[" + el.name + "]" : "") + " “" + (el.getAttribute("aria-label") ?? el.textContent).trim().replace(/\s+/g, " ").slice(0, 40) + "”";
	const key = (el) => el.type === "radio" ? "radio " + el.name + " " + (el.form ? [...document.forms].indexOf(el.form) : "") : el;
	const looks = (el) => [el, ...(el instanceof SVGElement ? el.querySelectorAll("*") : [])].map((e) => { const s = getComputedStyle(e); return [s.outlineStyle, s.outlineWidth, s.outlineColor, s.boxShadow, s.borderColor, s.stroke, s.strokeWidth, s.fill, s.textDecoration, s.top].join("|"); }).join("/");
	const want = new Map(), before = new Map();
	for (const el of document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex]")) {
		if (el.disabled || el.type === "hidden" || el.tabIndex < 0 || el.closest("[inert]") || !el.checkVisibility({visibilityProperty: true})) continue;
		if (el.tagName === "SUMMARY" && el.parentElement.querySelector("summary") !== el) continue;
		want.set(key(el), name(el));
		before.set(el, looks(el));
	}
	const state = window.walked = {first: "", unseen: [], covered: [], stops: 0, missing: () => [...want].filter(([k]) => !state.reached.has(k)).map(([, n]) => n), reached: new Set()};
	document.addEventListener("focusin", (e) => {
		const el = e.target;
		state.first ||= name(el);
		state.stops++;
		state.reached.add(key(el));
		const s = getComputedStyle(el);
		const drawn = s.outlineStyle !== "none" && parseFloat(s.outlineWidth) > 0;
		if (before.has(el) ? looks(el) === before.get(el) : !drawn) state.unseen.push(name(el));
	}, true);
	document.addEventListener("keyup", () => {
		const el = document.activeElement;
		if (!el || el === document.body) return;
		const boxes = [el, ...el.querySelectorAll("*")].flatMap((e) => [...e.getClientRects()]).filter((r) => r.width > 0 && r.height > 0);
		let over;
		const hit = boxes.some((r) => [[.5, .5], [.05, .1], [.95, .1], [.05, .9], [.95, .9], [-.2, .5], [1.2, .5]].some(([x, y]) => {
			const top = document.elementsFromPoint(r.left + r.width * x, r.top + r.height * y).find((e) => !e.matches(".grip, .turn-grip")); // which take the mouse and hide nothing
			over = top;
			return top && (el.contains(top) || top.contains(el) && top !== document.body && top !== document.documentElement || top.closest("label")?.control === el);
		}));
		if (!hit) state.covered.push(name(el) + (over ? " under " + name(over) : " out of sight"));
	}, true);
	return want.size;
})()`

// tab presses the Tab key so many times.
func tab(t *testing.T, ctx context.Context, times int) {
	t.Helper()
	for range times {
		if err := chromedp.Do(ctx, chromedp.KeyEvent(kb.Tab)); err != nil {
			t.Fatal(err)
		}
	}
}

// byKey walks the open page by the Tab key: it must come by everything that
// can be used, without a trap, and be seen at each stop; the first stop leads
// past the head of the page. Frames that scroll are stops too, so that there
// may be more stops than things to use.
func byKey(t *testing.T, ctx context.Context) {
	t.Helper()
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(1280, 900)); err != nil {
		t.Fatal(err)
	}
	fresh, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("document.activeElement === document.body"))
	if err != nil {
		t.Fatal(err)
	}
	want, err := chromedp.Run(ctx, chromedp.Evaluate[int](keysJS))
	if err != nil {
		t.Fatal(err)
	}
	if want < 3 {
		t.Fatalf("only %d things to use: nothing was walked", want)
	}
	var walked struct {
		First                     string
		Unseen, Covered, Unwalked []string
	}
	const spare = 12 // frames that scroll, and one way round from a fault in focus
	for round := range 2 {
		tab(t, ctx, map[int]int{0: want, 1: spare}[round])
		said, err := chromedp.Run(ctx, chromedp.Evaluate[string]("JSON.stringify({...walked, unwalked: walked.missing()})"))
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal([]byte(said), &walked); err != nil {
			t.Fatal(err)
		}
		if len(walked.Unwalked) == 0 {
			break
		}
	}
	if len(walked.Unwalked) > 0 {
		t.Errorf("Tab does not reach %q", walked.Unwalked)
	}
	if len(walked.Unseen) > 0 {
		t.Errorf("the focus is not seen on %q", walked.Unseen)
	}
	if len(walked.Covered) > 0 {
		t.Errorf("in focus, but under something else: %q", walked.Covered)
	}
	if fresh && walked.First != "a “Skip to the page”" {
		t.Errorf("the first stop is %s, want the way past the head of the page", walked.First)
	}
}
