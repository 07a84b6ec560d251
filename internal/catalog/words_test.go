package catalog_test

import (
	"strings"
	"testing"
	"testing/fstest"
	"unicode"
	"unicode/utf8"

	"duskboard/internal/catalog"
)

// In every language every target has all its words, none too long for a card,
// none with a gap where a number should be.
func TestWordsOfEveryTarget(t *testing.T) {
	for _, code := range catalog.Languages() {
		c, err := catalog.In(code)
		if err != nil {
			t.Fatal(err)
		}
		for _, target := range c.All() {
			w := target.Words
			if n := len(w.Facts); n < 2 || n > catalog.MaxFacts {
				t.Errorf("%s %s: %d facts", code, target.ID, n)
			}
			texts := map[string]int{w.Line: catalog.MaxLine, w.LookFor: catalog.MaxLookFor, w.Expect: catalog.MaxExpect, w.Find: catalog.MaxFind}
			for _, f := range w.Facts {
				texts[f] = catalog.MaxFact
			}
			if len(texts) != 4+len(w.Facts) {
				t.Errorf("%s %s says something twice: %q", code, target.ID, w)
			}
			for text, limit := range texts {
				wellFormed(t, code+" "+target.ID, text, limit)
			}
			if c.KindWord(target.Kind) == "" || c.ConstellationName(target.Constellation) == "" && !target.Moves {
				t.Errorf("%s %s: no word for its kind or constellation", code, target.ID)
			}
		}
	}
}

// wellFormed checks the things a machine can: a sentence with a beginning and an
// end, no traces of a template.
func wellFormed(t *testing.T, who, text string, limit int) {
	t.Helper()
	if n := utf8.RuneCountInString(text); n == 0 || n > limit {
		t.Errorf("%s: %d characters, want 1 to %d: %q", who, n, limit, text)
		return
	}
	first, _ := utf8.DecodeRuneInString(text)
	if !unicode.IsUpper(first) && !unicode.IsDigit(first) {
		t.Errorf("%s: begins with %q: %q", who, first, text)
	}
	if !strings.ContainsAny(text[len(text)-1:], ".?!)") {
		t.Errorf("%s: has no end: %q", who, text)
	}
	for _, trace := range []string{"  ", " .", " ,", "{{", "}}", "<no value>", "%!", "%s", "NaN", "Inf", "()", " 1 light-years", " 1 Lichtjahre", ".."} {
		if strings.Contains(text, trace) {
			t.Errorf("%s: contains %q: %q", who, trace, text)
		}
	}
}

// A showpiece that many telescopes show every year has words written by hand,
// in every language.
func TestShowpiecesHaveTheirOwnWords(t *testing.T) {
	for _, code := range catalog.Languages() {
		c, err := catalog.In(code)
		if err != nil {
			t.Fatal(err)
		}
		lines := map[string]int{}
		for _, target := range c.All() {
			lines[target.Words.Line]++
		}
		for _, id := range strings.Fields("sun moon mercury venus mars jupiter saturn uranus neptune m42 m45 m31 m13 m57 m27 m8 m11 m22 m44 m51 m81 m104 " +
			"ngc869 ngc457 ngc253 ngc5139 ngc104 ngc3372 ngc4755 ngc2070 lmc albireo mizar almach double-double castor polaris " +
			"alpha-centauri acrux garnet-star betelgeuse coathanger big-dipper southern-cross") {
			target, found := c.ByID(id)
			if !found {
				t.Errorf("no %s", id)
				continue
			}
			if n := lines[target.Words.Line]; n != 1 {
				t.Errorf("%s %s: its line is said of %d targets", code, id, n)
			}
		}
	}
}

// Hand-written words belong to a target that exists: a mistyped id would be
// silently lost.
func TestHandWrittenWordsHaveATarget(t *testing.T) {
	for _, code := range catalog.Languages() {
		for _, id := range catalog.HandWritten(code) {
			if _, found := catalog.Default().ByID(id); !found {
				t.Errorf("%s/targets.json speaks of %q, which is no target", code, id)
			}
		}
	}
}

func TestReadLanguageRefuses(t *testing.T) {
	good := `{"code":"xx","name":"X","decimal":".","directions":["1","2","3","4","5","6","7","8"],"kind":{}}`
	for _, c := range []struct{ name, phrases, targets, says string }{
		{"no file", "", "{}", "phrases.json"},
		{"broken", "{", "{}", "phrases.json"},
		{"no directions", `{"code":"xx","decimal":"."}`, "{}", "eight directions"},
		{"template", strings.Replace(good, `"kind":{}`, `"kind":{"galaxy":{"line":["{{.Nonsense}}"],"facts":["x"],"lookFor":["x"],"expect":["x"]}}`, 1), "{}", "galaxy, line, number 1"},
		{"part missing", strings.Replace(good, `"kind":{}`, `"kind":{"galaxy":{"line":["x"]}}`, 1), "{}", "galaxy has no facts"},
		{"too long", good, `{"m31":{"line":"` + strings.Repeat("x", 121) + `"}}`, "m31: line has 121"},
		{"too many facts", good, `{"m31":{"facts":["a","b","c","d"]}}`, "m31: 4 facts"},
	} {
		folder := fstest.MapFS{"targets.json": {Data: []byte(c.targets)}}
		if c.phrases != "" {
			folder["phrases.json"] = &fstest.MapFile{Data: []byte(c.phrases)}
		}
		if _, err := catalog.ReadLanguage(folder); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v does not say %q", c.name, err, c.says)
		}
	}
	if _, err := catalog.In("tlh"); err == nil || !strings.Contains(err.Error(), "en") {
		t.Errorf("unknown language: %v", err)
	}
}
