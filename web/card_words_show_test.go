package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

func cardsText(v *visitor, query string) string {
	v.t.Helper()
	out := ""
	for _, n := range v.get("/nights/1/cards" + query).wants(http.StatusOK).all(having("data-testid", "card")) {
		out += text(n) + "\n"
	}
	return out
}

// TestClubWordsItsCards: a coordinator changes a line, sees it on the card,
// takes it back, goes back to the program's words, and too long a line comes
// back as it was typed with the reason beside it.
func TestClubWordsItsCards(t *testing.T) {
	v := planned(t, 0)
	if !strings.Contains(v.get("/words").wants(http.StatusOK).body, "/words/en/moon") {
		t.Fatal("the Moon is not on the list of words")
	}
	form := v.get("/words/en/moon").wants(http.StatusOK)
	sound(t, "/words/en/moon", form)
	shipped := form.value("Line")
	const own = "Wave: somebody may be waving back."
	fields := func(line string) []string {
		pairs := []string{"Line", line}
		for _, name := range []string{"Fact1", "Fact2", "Fact3", "LookFor", "Expect", "Find", "Child"} {
			pairs = append(pairs, name, form.value(name))
		}
		return pairs
	}
	v.save("/words/en/moon", fields(own)...)
	if !strings.Contains(cardsText(v, ""), own) {
		t.Error("the card does not say the club's line")
	}
	if strings.Contains(cardsText(v, "?lang=de"), own) {
		t.Error("the German card says the English line")
	}
	if page := v.get("/words"); !strings.Contains(page.body, "own words") {
		t.Error("the list does not mark the Moon")
	}
	v.save("/words/en/moon/undo")
	if said := cardsText(v, ""); strings.Contains(said, own) || !strings.Contains(said, shipped) {
		t.Error("undo did not bring the program's line back")
	}
	v.save("/words/en/moon/undo")
	v.save("/words/en/moon/reset")
	if strings.Contains(cardsText(v, ""), own) {
		t.Error("the line is still the club's after the reset")
	}
	long := strings.Repeat("long ", 30)
	p := v.post("/words/en/moon", fields(long)...).wants(http.StatusUnprocessableEntity)
	if p.fault("Line") == "" || strings.TrimSpace(p.value("Line")) != strings.TrimSpace(long) {
		t.Errorf("a long line: fault %q, value %q", p.fault("Line"), p.value("Line"))
	}
	v.get("/words/xx/moon").wants(http.StatusNotFound)
	v.get("/words/en/nowhere").wants(http.StatusNotFound)
}

// TestClubAddsALanguage: a file with a fault changes nothing and names the
// row; a good one is a language of the cards and of the guests' page, English
// where it says nothing; it can be removed and brought back.
func TestClubAddsALanguage(t *testing.T) {
	v := planned(t, 0)
	sound(t, "/words", v.get("/words").wants(http.StatusOK))
	table := v.get("/words/en/texts.csv").wants(http.StatusOK)
	if !strings.HasPrefix(table.body, "key,english,text\n") || !strings.Contains(table.body, "target.moon.line") {
		t.Errorf("the table begins %.60q", table.body)
	}
	bad := v.post("/words/file", "code", "nl", "name", "Nederlands", "text", "key,text\ntext.care,Zorg\ntext.carre,x\n").wants(http.StatusUnprocessableEntity)
	if !strings.Contains(bad.testid("rows"), "text.carre") || bad.fault("file") == "" {
		t.Errorf("the refusal says %q, %q", bad.testid("rows"), bad.fault("file"))
	}
	if p := v.post("/words/file", "code", "en", "name", "", "text", "key,text\ntext.care,Zorg\n").wants(http.StatusUnprocessableEntity); p.fault("code") == "" || p.fault("name") == "" {
		t.Errorf("code and name: %q, %q", p.fault("code"), p.fault("name"))
	}
	good := "key,text\ntext.expect,Te zien is:\ntarget.moon.name,Maan\ntarget.moon.line,Dit is de Maan.\n"
	if to := v.save("/words/file", "code", "nl", "name", "Nederlands", "text", good); to != "/words?lang=nl" {
		t.Errorf("the file leads to %s", to)
	}
	if page := v.get("/words?lang=nl").wants(http.StatusOK); !strings.Contains(page.body, "3 of ") || !strings.Contains(page.body, "What is missing is printed in English") {
		t.Error("the page does not say what is missing")
	}
	v.save("/nights/1/papers", "page", "cards", "lang", "nl")
	said := cardsText(v, "")
	for _, want := range []string{"Maan", "Dit is de Maan.", "Te zien is:", "Look for:"} {
		if !strings.Contains(said, want) {
			t.Errorf("the card does not say %q", want)
		}
	}
	v.save("/nights/1/programme/publish")
	if p := v.get("/n/1").wants(http.StatusOK); !strings.Contains(p.testid("programme"), "Dit is de Maan.") {
		t.Error("the guests' page does not speak the language")
	}
	v.save("/words/language", "lang", "nl")
	v.save("/words/nl/remove")
	if strings.Contains(cardsText(v, "?lang=nl"), "Maan.") {
		t.Error("the removed language still prints")
	}
	v.save("/words/nl/restore")
	if !strings.Contains(cardsText(v, ""), "Dit is de Maan.") {
		t.Error("the language did not come back")
	}
	v.save("/words/file", "code", "nl", "name", "Nederlands", "text", "key,text\ntarget.moon.line,Kijk.\n")
	v.save("/words/nl/undo")
	if !strings.Contains(cardsText(v, ""), "Dit is de Maan.") {
		t.Error("undo did not bring the earlier file back")
	}
	if n := v.get("/words?q=" + url.QueryEscape("nothing at all")).all(func(n *html.Node) bool { return attr(n, "class") == "words-targets" }); len(n) != 0 {
		t.Error("a search for nothing finds something")
	}
}
