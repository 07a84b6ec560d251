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

// TestSheetLanguages: a sheet speaks the language of its address, else the
// club's; the comparison and its links stay in it; a language of the club's own
// is among them.
func TestSheetLanguages(t *testing.T) {
	v := planned(t, 0)
	v.save("/words/file", "code", "nl", "name", "Nederlands", "text", "key,text\ntext.sheet.strengths,Sterke punten\n")
	p := v.get("/kit/instruments/1/sheet?lang=de").wants(http.StatusOK)
	sheet := p.all(having("data-testid", "instrument-sheet"))[0]
	if attr(sheet, "lang") != "de" {
		t.Errorf("the sheet is in %q", attr(sheet, "lang"))
	}
	words := text(sheet)
	for _, want := range []string{"Das Teleskop kennen", "Stärken", "Hauptspiegel", "Welches Okular", "Plejaden", "Zoll", "im Stehen", "Angenommen, nicht gemessen"} {
		if !strings.Contains(words, want) {
			t.Errorf("the German sheet does not say %q", want)
		}
	}
	for _, not := range []string{"eyepiece", "mirror", "Strengths", "Moon", "minutes", "%!"} {
		if strings.Contains(words, not) {
			t.Errorf("the German sheet says %q", not)
		}
	}
	if got := p.testid("languages"); !strings.Contains(got, "English") || !strings.Contains(got, "Deutsch") || !strings.Contains(got, "Nederlands") {
		t.Errorf("languages: %q", got)
	}
	if got := v.get("/kit/instruments/1/sheet?lang=nl").testid("instrument-sheet"); !strings.Contains(got, "Sterke punten") || !strings.Contains(got, "Weak points") {
		t.Errorf("the club's own language: %q", got)
	}
	c := v.get("/kit/compare?i=1&i=2&lang=de").wants(http.StatusOK)
	table := c.testid("compared")
	for _, want := range []string{"Geräte nebeneinander", "1317 × Auge", "0,46″", "von Hand bewegt", " bis "} {
		if !strings.Contains(table, want) {
			t.Errorf("the German comparison does not say %q: %q", want, table)
		}
	}
	if len(c.all(having("href", "/kit/instruments/1/sheet?lang=de"))) != 1 || len(c.all(having("href", "/kit/compare?i=1&i=2&lang=en"))) != 1 {
		t.Error("links leave the language or the choice")
	}
	// The club's language, without a word in the address.
	papers, err := v.store.Papers(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	papers.Language = "de"
	if err := v.store.SavePapers(t.Context(), papers); err != nil {
		t.Fatal(err)
	}
	if got := v.get("/kit/instruments/1/sheet").testid("instrument-sheet"); !strings.Contains(got, "Stärken") {
		t.Error("the sheet does not speak the club's language")
	}
}
