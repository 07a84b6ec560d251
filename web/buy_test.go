package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"
)

// TestWhatToBuy walks the page: ladders and gaps stand there at once, the one
// more eyepiece is computed when asked for, without a script, and an answer
// for a night that has changed since says so.
func TestWhatToBuy(t *testing.T) {
	v := boarded(t)
	p := v.get("/nights/1/buy").wants(http.StatusOK)
	for _, want := range []string{"40 mm, 65° apparent field, 2 inch", "5 mm, 60° apparent field, 1.25 inch"} {
		if !strings.Contains(text(p.root), want) {
			t.Errorf("the candidate %q is not stated", want)
		}
	}
	// 203 mm f/6 with 25 and 12 mm: 1219/12 = 102 times at most; 100 mm f/8 with
	// 12 mm: 67 times, where an exit pupil of 1 mm (common practice for the
	// useful end) allows 100.
	if all := text(p.root); !strings.Contains(all, "none between 102× and") && !strings.Contains(all, "The highest is 102×") || !strings.Contains(all, "The highest is 67×") {
		t.Errorf("gaps of a 203 mm and a 100 mm: %q", all)
	}
	if v.get("/nights/1/fits").testid("weigh") != "" || len(v.get("/nights/1/fits").all(having("href", "/nights/1/buy"))) != 1 {
		t.Error("the fits page does not lead here")
	}
	if to := v.get("/kit/buy").wants(http.StatusSeeOther).header.Get("Location"); to != "/nights/1/buy" {
		t.Errorf("the kit's link leads to %q", to)
	}
	v.post("/nights/1/buy")
	for range 600 {
		if p = v.get("/nights/1/buy"); p.testid("progress") == "" {
			break
		}
		if !strings.Contains(p.testid("progress"), "of 8 eyepieces weighed") {
			t.Fatalf("progress: %q", p.testid("progress"))
		}
		time.Sleep(50 * time.Millisecond)
	}
	if helps := p.testid("helps"); !strings.Contains(helps, "good looks") {
		t.Fatalf("no answer: %q", text(p.root))
	}
	rows := 0
	for _, tr := range p.all(tag("tr")) {
		if s := text(tr); strings.Contains(s, "apparent field") {
			rows++
		}
	}
	if rows != 8 {
		t.Errorf("%d of 8 candidates are told about", rows)
	}
	if p.testid("stale") != "" {
		t.Error("an answer for the night as it is counts as old")
	}
	v.save("/nights/1/line-up/clear")
	if v.get("/nights/1/buy").testid("stale") == "" {
		t.Error("the night has changed, and the answer does not say that it is old")
	}
}

// TestWhatToBuyWithoutANight: nothing to ask about leads to what to do.
func TestWhatToBuyWithoutANight(t *testing.T) {
	v := visit(t)
	if p := v.get("/kit/buy").wants(http.StatusOK); !strings.Contains(p.testid("empty"), "Plan a night") {
		t.Errorf("an empty club: %q", p.testid("empty"))
	}
}
