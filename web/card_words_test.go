package web_test

import (
	"encoding/json"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"duskboard/internal/catalog"
)

type cardFile struct {
	Code, Name, Decimal string
	Lists               map[string][]string
	Texts               map[string]string
}

func cardFileOf(t *testing.T, code string) cardFile {
	t.Helper()
	b, err := os.ReadFile("cardwords/" + code + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var f cardFile
	if err := json.Unmarshal(b, &f); err != nil {
		t.Fatal(err)
	}
	return f
}

var verb = regexp.MustCompile(`%(\[\d\])?[a-z]`)

// TestCardWordsAreComplete: every language says everything that English says,
// with the same numbers and names in it, so that no card has a gap or a verb
// that printing leaves behind.
func TestCardWordsAreComplete(t *testing.T) {
	english := cardFileOf(t, "en")
	for _, code := range catalog.Languages() {
		f := cardFileOf(t, code)
		if f.Code != code || f.Name == "" || f.Decimal == "" {
			t.Errorf("%s: code %q, name %q, decimal sign %q", code, f.Code, f.Name, f.Decimal)
		}
		for key, text := range english.Texts {
			other, ok := f.Texts[key]
			if !ok || other == "" && text != "" {
				t.Errorf("%s: nothing for %q", code, key)
			}
			a, b := verb.FindAllString(text, -1), verb.FindAllString(other, -1)
			slices.Sort(a)
			slices.Sort(b)
			if !slices.Equal(a, b) {
				t.Errorf("%s: %q holds %v, English %v", code, key, b, a)
			}
		}
		for name, list := range english.Lists {
			if len(f.Lists[name]) != len(list) {
				t.Errorf("%s: %d %s, English has %d", code, len(f.Lists[name]), name, len(list))
			}
		}
	}
	for _, k := range []catalog.Kind{catalog.KindMoon, catalog.KindPlanet, catalog.KindOpen, catalog.KindGlobular, catalog.KindNebula, catalog.KindGalaxy, catalog.KindDouble, catalog.KindOther} {
		if english.Texts["child."+string(k)] == "" {
			t.Errorf("nothing to say to a child about a %s", k)
		}
	}
}

// TestCardsInTheSecondLanguage: a German card has German throughout, from the
// direction to the catalogue's words.
func TestCardsInTheSecondLanguage(t *testing.T) {
	v := planned(t, 0)
	p := v.get("/nights/1/cards?lang=de").wants(200)
	body := ""
	for _, n := range p.all(having("data-testid", "card")) {
		body += text(n) + "\n"
	}
	for _, want := range []string{"Okular", "hoch", "Fäuste", "Rollstuhl:", "Zu sehen ist:", "Für Kinder:", "Dezember"} {
		if !strings.Contains(body, want) {
			t.Errorf("the German cards do not say %q", want)
		}
	}
	for _, not := range []string{"eyepiece", "Wheelchair", "Look for", "north", "%!", "Guests will"} {
		if strings.Contains(body, not) {
			t.Errorf("the German cards say %q", not)
		}
	}
}
