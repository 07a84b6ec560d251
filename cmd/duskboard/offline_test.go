package main

import (
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// TestDepartureCheckWorksWithoutANetwork tells the story of a volunteer: opens
// the page at home, ticks the first thing, drives to a field without a network,
// opens the page again: it is there, with the tick.
func TestDepartureCheckWorksWithoutANetwork(t *testing.T) {
	ctx := browser(t)
	server, err := url.Parse(started(t, "--demo"))
	if err != nil {
		t.Fatal(err)
	}
	// The network between phone and server, which can be taken away.
	way := httptest.NewServer(httputil.NewSingleHostReverseProxy(server))
	defer way.Close()
	page := way.URL + "/nights/1/departure/4"
	step := func(name string, steps ...chromedp.Action[chromedp.Void]) {
		t.Helper()
		if err := chromedp.Do(ctx, steps...); err != nil {
			body, _ := chromedp.Run(ctx, chromedp.Evaluate[string]("document.body.innerText"))
			t.Fatalf("%s: %v\nthe page says:\n%s", name, err, body)
		}
	}
	say := func(js string) string {
		t.Helper()
		v, err := chromedp.Run(ctx, chromedp.Evaluate[string](js))
		if err != nil {
			t.Fatalf("%s: %v", js, err)
		}
		return v
	}
	const leave, word, count = `document.querySelector("[data-testid=leave]").textContent`, `document.querySelector("[data-kept-word]").textContent`, `document.querySelector("[data-tick-count]").textContent`

	step("open at home", chromedp.EmulateViewport(390, 844), chromedp.Navigate(page), chromedp.WaitVisible("[data-kept-word]"), chromedp.Click("[data-tick]"))
	if s := say(word); !strings.HasPrefix(s, "Kept on this phone") {
		t.Fatalf("the page says %q of being kept", s)
	}
	before := say(leave)
	way.CloseClientConnections()
	way.Close()
	step("open on the field", chromedp.Navigate("about:blank"), chromedp.Navigate(page), chromedp.WaitVisible("[data-testid=leave]"))
	ticked := ""
	for range 50 { // the script that shows the ticks comes after the page
		if ticked = say(count); strings.Contains(ticked, "packed") {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	if got := say(leave); before == "" || got != before || !strings.HasPrefix(ticked, "1 of ") {
		t.Errorf("without a network: leave %q, before %q; %q", got, before, ticked)
	}
}
