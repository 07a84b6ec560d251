package web_test

import (
	"net/http"
	"strings"
	"testing"
)

// TestInstrumentSheets: every instrument of the invented club has its sheet,
// with a light path of its design and its own numbers, and a place in the
// comparison.
func TestInstrumentSheets(t *testing.T) {
	v := planned(t, 0)
	p := v.get("/kit/compare").wants(http.StatusOK)
	rows := p.all(tag("tr"))
	if len(rows) != 10 {
		t.Errorf("%d rows, want nine instruments and a head", len(rows))
	}
	// Light against an eye of 7 mm: (254/7)^2 = 1317; Dawes 116/254 = 0.46.
	if row := p.row("The Barrel"); !strings.Contains(row, "1317 × eye") || !strings.Contains(row, "0.46″") {
		t.Errorf("The Barrel: %q", row)
	}
	for path, parts := range map[string][]string{
		"/kit/instruments/1/sheet": {"main mirror", "secondary", "eyepiece"},
		"/kit/instruments/2/sheet": {"corrector", "main mirror"},
		"/kit/instruments/3/sheet": {"front lens", "eyepiece"},
		"/kit/instruments/9/sheet": {"front lens", "prisms"},
	} {
		p := v.get(path).wants(http.StatusOK)
		words := p.testid("instrument-sheet")
		for _, part := range append(parts, "Strengths", "Check at home") {
			if !strings.Contains(words, part) {
				t.Errorf("%s does not name %q", path, part)
			}
		}
		rays := p.all(having("class", "ray"))
		if len(rays) != 2 {
			t.Errorf("%s: %d rays, want the two outermost", path, len(rays))
		}
	}
	// What is assumed is named as the form names it, not as the program does.
	sheet := text(v.get("/kit/instruments/1/sheet").wants(http.StatusOK).root)
	for _, p := range []string{sheet, text(v.get("/kit").wants(http.StatusOK).root)} {
		if !strings.Contains(p, "eyepiece beside the optical axis") || strings.Contains(p, "EyeOffset") {
			t.Error("an assumed value is not named in the words of the form")
		}
	}
	if got := v.get("/kit/compare?i=1&i=2").all(tag("tr")); len(got) != 3 {
		t.Errorf("two chosen: %d rows, want 3", len(got))
	}
	v.get("/kit/instruments/999/sheet").wants(http.StatusNotFound)
}
