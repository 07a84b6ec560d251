package main

import (
	"bytes"
	"context"
	"encoding/json"
	"image/png"
	"io"
	"net/http"
	"net/url"
	"os"
	"sort"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"golang.org/x/net/html"
)

// axeSource is axe-core, the reference checker of the WCAG rules that a machine
// can check (testdata/axe, MPL 2.0, npm package axe-core).
const axeSource = "../../testdata/axe/axe.min.js"

// axeRun asks for the rules of WCAG 2.0 to 2.2, levels A and AA, and for the
// axe project's own best practices, and answers with the findings as text. The
// rule for targets of 24 px is off in axe by itself; its tag asks for it, and it
// is named as well, so that it stays on.
const axeRun = `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"], rules: {"target-size": {enabled: true}}, resultTypes: ["violations"]})` + axeSays

// axeColours asks for the rules that depend on colours. The second theme is the
// same page in other colours, so that the others have nothing new to find.
const axeColours = `axe.run(document, {runOnly: {type: "rule", values: ["color-contrast", "link-in-text-block"]}, resultTypes: ["violations"]})` + axeSays

const axeSays = `
	.then((r) => JSON.stringify(r.violations.map((v) => ({rule: v.id, help: v.help, count: v.nodes.length, where: v.nodes.slice(0, 3).map((n) => n.target.join(" ") + ": " + n.failureSummary.replace(/\s+/g, " ").slice(0, 160))}))))`

// shifted adds up how far things moved by themselves since the page came, as
// the W3C's Layout Instability draft counts it (0.1 is held to be good there).
const shifted = `new Promise((done) => {
	let sum = 0;
	new PerformanceObserver((l) => l.getEntries().forEach((e) => { if (!e.hadRecentInput) sum += e.value; })).observe({type: "layout-shift", buffered: true});
	setTimeout(() => done(sum), 50);
})`

// finding is one broken rule on a page.
type finding struct {
	Rule, Help string
	Count      int
	Where      []string
}

// TestAccess opens every kind of page of the demo in both themes at the width
// of a laptop and of a phone, and lets axe-core look at it (WCAG 2.2 AA). It
// also guards what axe cannot see: that no page scrolls sideways on a phone,
// and that the lamp's pixels hold no green and no blue, which would end an
// hour of dark adaptation. On paper, with less motion asked for, it also makes
// each page larger and walks it by the keyboard.
func TestAccess(t *testing.T) {
	axe := readAxe(t)
	base := started(t, "--demo")
	propose(t, base)
	pages := onePageOfEachKind(t, base)
	if len(pages) < 30 {
		t.Fatalf("only %d kinds of pages found: %v", len(pages), pages)
	}
	ctx := browserFor(t, 12*time.Minute)
	for _, theme := range []string{"paper", "lamp"} {
		if err := chromedp.Do(ctx, chromedp.Navigate(base+"/style"), setCookie(base, "theme", theme), lessMotion(theme == "paper")); err != nil {
			t.Fatal(err)
		}
		for _, path := range pages {
			t.Run(theme+strings.ReplaceAll(path, "/", "-"), func(t *testing.T) {
				if err := chromedp.Do(ctx, chromedp.EmulateViewport(1280, 900), chromedp.Navigate(base+path)); err != nil {
					t.Fatal(err)
				}
				shift, err := chromedp.Run(ctx, chromedp.Evaluate[float64](shifted, chromedp.EvalAwaitPromise))
				if err != nil {
					t.Fatal(err)
				}
				if shift > 0.1 {
					t.Errorf("the page moves under the reader while it loads: layout shift %.3f", shift)
				}
				checked(t, ctx, axe, theme)
				if theme == "paper" {
					still(t, ctx)
					enlarged(t, ctx)
					byKey(t, ctx)
				}
			})
		}
	}
}

func readAxe(t *testing.T) string {
	t.Helper()
	axe, err := os.ReadFile(axeSource)
	if err != nil {
		t.Fatal(err)
	}
	return string(axe)
}

// checked lets axe look at the open page at both widths, and guards that it
// does not scroll sideways and, by the lamp, what its pixels hold.
func checked(t *testing.T, ctx context.Context, axe, theme string) {
	t.Helper()
	if _, err := chromedp.Run(ctx, chromedp.Evaluate[bool](axe+"; true")); err != nil {
		t.Fatal(err)
	}
	for _, width := range []int64{1280, 390} {
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 900)); err != nil {
			t.Fatal(err)
		}
		rules := axeRun
		if theme == "lamp" {
			rules = axeColours
		}
		said, err := chromedp.Run(ctx, chromedp.Evaluate[string](rules, chromedp.EvalAwaitPromise))
		if err != nil {
			t.Fatalf("at %d px: %v", width, err)
		}
		var found []finding
		if err := json.Unmarshal([]byte(said), &found); err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			t.Errorf("at %d px: %s (%s) on %d elements\n\t%s", width, f.Help, f.Rule, f.Count, strings.Join(f.Where, "\n\t"))
		}
	}
	wide, err := chromedp.Run(ctx, chromedp.Evaluate[int]("document.documentElement.scrollWidth"))
	if err != nil {
		t.Fatal(err)
	}
	if wide > 390 {
		t.Errorf("scrolls sideways on a phone: %d px wide", wide)
	}
	if theme == "lamp" {
		high, err := chromedp.Run(ctx, chromedp.Evaluate[int64]("document.documentElement.scrollHeight"))
		if err != nil {
			t.Fatal(err)
		}
		noGreenNorBlue(t, func() ([]byte, error) {
			if err := chromedp.Do(ctx, chromedp.EmulateViewport(390, min(high, pictured))); err != nil {
				return nil, err
			}
			return chromedp.Run(ctx, chromedp.CaptureScreenshot())
		})
	}
}

// lessMotion tells pages that their reader asked the system for less motion, or
// did not.
func lessMotion(reduce bool) chromedp.Action[chromedp.Void] {
	wish := "no-preference"
	if reduce {
		wish = "reduce"
	}
	return chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: wish}},
		})
		return err
	})
}

// pictured is how many pixels of a page's height are looked at by the lamp:
// below them the same few colours return.
const pictured = 4000

// noGreenNorBlue looks at every pixel of a picture of the page.
func noGreenNorBlue(t *testing.T, shoot func() ([]byte, error)) {
	t.Helper()
	shot, err := shoot()
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(shot))
	if err != nil {
		t.Fatal(err)
	}
	area := img.Bounds()
	lit := false
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			lit = lit || r > 0x4000
			if g > 0x0400 || b > 0x0400 {
				t.Errorf("the lamp's pixel %d,%d has green %d and blue %d of 255", x, y, g>>8, b>>8)
				return
			}
		}
	}
	if !lit {
		t.Error("the picture of the page is black: nothing was looked at")
	}
}

// propose fills the demo's line-up, so that the pages have something to show.
func propose(t *testing.T, base string) {
	t.Helper()
	resp, err := http.PostForm(base+"/nights/1/line-up/propose", url.Values{})
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		t.Fatalf("propose: status %d", resp.StatusCode)
	}
}

func setCookie(base, name, value string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, network.SetCookie, network.SetCookieParams{Name: name, Value: value, URL: base})
		return err
	})
}

// onePageOfEachKind walks the links of the program and keeps one address for
// every pattern of address, in order.
func onePageOfEachKind(t *testing.T, base string) []string {
	t.Helper()
	kinds := map[string]string{"/": "/", "/style": "/style"}
	queue := []string{"/", "/style"}
	for len(queue) > 0 {
		path := queue[0]
		queue = queue[1:]
		resp, err := http.Get(base + path)
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(resp.Body)
		resp.Body.Close()
		if err != nil {
			t.Fatal(err)
		}
		kind := kindOfPath(path)
		if resp.StatusCode != http.StatusOK || !strings.HasPrefix(resp.Header.Get("Content-Type"), "text/html") {
			delete(kinds, kind)
			continue
		}
		root, err := html.Parse(bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		for _, link := range linksOf(root, path) {
			if k := kindOfPath(link); kinds[k] == "" {
				kinds[k] = link
				queue = append(queue, link)
			}
		}
	}
	pages := make([]string, 0, len(kinds))
	for _, p := range kinds {
		pages = append(pages, p)
	}
	sort.Strings(pages)
	return pages
}
