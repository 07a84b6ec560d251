package main

import (
	"context"
	"encoding/json"
	"testing"

	"github.com/chromedp/chromedp"
)

// sizes are the ways in which somebody who sees badly makes a page larger.
// WCAG 2.2 asks for text at 200 percent (1.4.4) and for pages that reflow at
// 320 CSS px (1.4.10), which is a window of 1280 px at 400 percent.
var sizes = []struct {
	name          string
	width, height int64
	root          string // font size of the root element; "" is the browser's own
}{
	{"text alone at 200 %", 1280, 900, "200%"},
	{"page at 200 %", 640, 450, ""},
	{"page at 400 %", 320, 256, ""},
}

// cutJS lists what a larger page does badly: scrolls sideways, cuts words off,
// lets them out of their box, leaves no room to read what is typed, or lays one
// control over another. What stands in
// a frame that scrolls by itself may be wide, and so may drawings, which grow
// with the page; what is kept for screen readers only is not looked at.
const cutJS = `(() => {
	const out = [];
	const say = (what, el) => out.push(what + ": " + el.tagName.toLowerCase() + (el.id ? "#" + el.id : "") + [...el.classList].map((c) => "." + c).join("") + (el.name ? "[" + el.name + "]" : "") + " “" + el.textContent.trim().replace(/\s+/g, " ").slice(0, 40) + "”");
	const page = document.documentElement;
	const away = (el) => { const s = getComputedStyle(el); return s.clipPath !== "none" || el.offsetWidth <= 1; };
	const framed = (el) => { for (let p = el; p && p !== document.body; p = p.parentElement) { if (/auto|scroll/.test(getComputedStyle(p).overflowX)) return true; } return false; };
	const all = [...document.body.querySelectorAll("*")].filter((el) => el instanceof HTMLElement && el.checkVisibility({visibilityProperty: true}) && !el.closest(".away, .skip, thead"));
	if (page.scrollWidth > page.clientWidth) {
		out.push("the page is " + page.scrollWidth + " px wide in a window of " + page.clientWidth);
		for (const el of all) if (el.getBoundingClientRect().right > page.clientWidth + 1 && !framed(el)) { say("reaches out", el); if (out.length > 6) break; }
	}
	for (const el of all) {
		const wide = el.scrollWidth - el.clientWidth > 1, high = el.scrollHeight - el.clientHeight > 1;
		if (!wide && !high || el.clientWidth === 0 || el.matches("input, select, textarea")) continue;
		if (![...el.childNodes].some((n) => n.nodeType === Node.TEXT_NODE && n.data.trim())) continue;
		const s = getComputedStyle(el);
		if (s.display === "inline" || s.display === "contents" || away(el)) continue;
		if (/hidden|clip/.test(s.overflowX + s.overflowY)) say("cut off", el);
		else if (wide && !framed(el)) say("runs out of its box", el);
	}
	// What is typed or chosen scrolls in its box, but a few signs must be seen.
	for (const el of all.filter((el) => el.matches("textarea, select, input:not([type=checkbox], [type=radio], [type=file])") && !away(el))) {
		const s = getComputedStyle(el), room = el.clientWidth - parseFloat(s.paddingLeft) - parseFloat(s.paddingRight);
		if (room < 2 * parseFloat(s.fontSize)) say("too narrow to read", el);
	}
	// Several lines of one link are several boxes.
	const controls = all.filter((el) => el.matches("a[href], button, input, select, textarea, summary") && !framed(el));
	const fixed = (el) => { for (let p = el; p && p !== document.body; p = p.parentElement) if (/fixed|sticky/.test(getComputedStyle(p).position)) return true; return false; };
	const boxes = controls.filter((el) => !fixed(el)).flatMap((el) => [...el.getClientRects()].map((r) => ({el, r}))).filter((b) => b.r.width > 0 && b.r.height > 0).sort((a, b) => a.r.top - b.r.top);
	boxes.forEach((a, i) => {
		for (let k = i + 1; k < boxes.length && boxes[k].r.top < a.r.bottom - 4; k++) {
			const b = boxes[k];
			if (a.el === b.el || a.el.contains(b.el) || b.el.contains(a.el)) continue;
			if (Math.min(a.r.right, b.r.right) - Math.max(a.r.left, b.r.left) > 2) say("lies under “" + b.el.textContent.trim().slice(0, 30) + "” " + b.el.tagName, a.el);
		}
	});
	return JSON.stringify(out.slice(0, 12));
})()`

// stillJS lists what moves on a page although its reader asked for rest.
const stillJS = `(() => {
	const out = [];
	if (!matchMedia("(prefers-reduced-motion: reduce)").matches) out.push("the browser was not asked for rest");
	for (const a of document.getAnimations()) out.push("runs: " + (a.animationName ?? a.transitionProperty ?? "animation") + " on " + a.effect?.target?.className);
	const long = (times) => times.split(",").some((t) => parseFloat(t) * (t.trim().endsWith("ms") ? 1 : 1000) > 10);
	for (const el of document.querySelectorAll("*")) {
		for (const part of [null, "::before", "::after"]) {
			const s = getComputedStyle(el, part);
			if (long(s.transitionDuration)) out.push("transition of " + s.transitionDuration + " on " + el.tagName + "." + el.classList + (part ?? ""));
			if (s.animationName !== "none" && long(s.animationDuration)) out.push("animation " + s.animationName + " on " + el.tagName + "." + el.classList + (part ?? ""));
			if (!part && s.scrollBehavior === "smooth") out.push("scrolls smoothly: " + el.tagName);
		}
		if (/^(animate|marquee|blink)/i.test(el.tagName)) out.push("moves: " + el.tagName);
	}
	return JSON.stringify(out.slice(0, 12));
})()`

// listed runs a script that answers with a list of faults, and reports each.
func listed(t *testing.T, ctx context.Context, when, js string) {
	t.Helper()
	said, err := chromedp.Run(ctx, chromedp.Evaluate[string](js))
	if err != nil {
		t.Fatalf("%s: %v", when, err)
	}
	var faults []string
	if err := json.Unmarshal([]byte(said), &faults); err != nil {
		t.Fatal(err)
	}
	for _, f := range faults {
		t.Errorf("%s: %s", when, f)
	}
}

// enlarged looks at the open page in each of the sizes.
func enlarged(t *testing.T, ctx context.Context) {
	t.Helper()
	root := func(size string) chromedp.Action[bool] {
		return chromedp.Evaluate[bool](`document.documentElement.style.fontSize = "` + size + `"; true`)
	}
	for _, s := range sizes {
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(s.width, s.height)); err != nil {
			t.Fatal(err)
		}
		if _, err := chromedp.Run(ctx, root(s.root)); err != nil {
			t.Fatal(err)
		}
		listed(t, ctx, s.name, cutJS)
	}
	if _, err := chromedp.Run(ctx, root("")); err != nil {
		t.Fatal(err)
	}
}

// still looks whether the open page keeps still. The browser was asked for
// less motion before the page came.
func still(t *testing.T, ctx context.Context) {
	t.Helper()
	listed(t, ctx, "with less motion", stillJS)
}
