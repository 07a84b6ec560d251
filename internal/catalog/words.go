package catalog

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"text/template"
	"unicode/utf8"
)

// Limits of length in characters: what a card of half a page has room for.
const (
	MaxLine    = 120
	MaxFact    = 120
	MaxLookFor = 120
	MaxExpect  = 120
	MaxFind    = 160
	MaxFacts   = 3
)

// Language is how targets are spoken of in one language.
type Language struct {
	Code string // "en"
	Name string // "English"

	phrases   phraseBook
	templates map[Kind]kindTemplates
	targets   map[string]handWritten
}

// handWritten is what targets.json says of one target.
type handWritten struct {
	Name    string   `json:"name"`
	Line    string   `json:"line"`
	Facts   []string `json:"facts"`
	LookFor string   `json:"lookFor"`
	Expect  string   `json:"expect"`
	Find    string   `json:"find"`
}

// phraseBook is phrases.json; see doc.go.
type phraseBook struct {
	Code          string                 `json:"code"`
	Name          string                 `json:"name"`
	Decimal       string                 `json:"decimal"`
	Thousands     string                 `json:"thousands"`
	Constellation string                 `json:"constellation"`
	Kinds         map[Kind]string        `json:"kinds"`
	Directions    []string               `json:"directions"`
	Colours       map[string]string      `json:"colours"`
	Numbers       distanceBook           `json:"distance"`
	Light         []step                 `json:"light"`
	Sizes         []step                 `json:"sizes"`
	Find          findBook               `json:"find"`
	Kind          map[Kind]kindTemplateT `json:"kind"`
}

// step is a text for all numbers up to a limit; the last has none.
type step struct {
	To   float64 `json:"to"`
	Text string  `json:"text"`
}

type kindTemplateT struct {
	Line    []string `json:"line"`
	Facts   []string `json:"facts"`
	LookFor []string `json:"lookFor"`
	Expect  []string `json:"expect"`
}

type kindTemplates struct {
	line, facts, lookFor, expect []*template.Template
}

// Languages are the codes of the embedded languages, English first.
func Languages() []string { return []string{"en", "de"} }

// HandWritten are the ids that a language has words of its own for, sorted.
func HandWritten(code string) []string {
	l, err := languageOf(code)
	if err != nil {
		return nil
	}
	return slices.Sorted(maps.Keys(l.targets))
}

func languageOf(code string) (*Language, error) {
	folder, err := fs.Sub(words, "words/"+code)
	if err != nil {
		return nil, err
	}
	return ReadLanguage(folder)
}

// ReadLanguage reads a language from a folder with phrases.json and
// targets.json. A fault names the file, the target or kind and the field.
func ReadLanguage(folder fs.FS) (*Language, error) {
	l := &Language{templates: make(map[Kind]kindTemplates)}
	if err := readJSON(folder, "phrases.json", &l.phrases); err != nil {
		return nil, err
	}
	if err := readJSON(folder, "targets.json", &l.targets); err != nil {
		return nil, err
	}
	l.Code, l.Name = l.phrases.Code, l.phrases.Name
	if l.Code == "" || len(l.phrases.Directions) != 8 || l.phrases.Decimal == "" {
		return nil, fmt.Errorf("phrases.json: code, decimal and eight directions are needed")
	}

	for kind, texts := range l.phrases.Kind {
		var k kindTemplates
		for _, part := range []struct {
			name  string
			texts []string
			into  *[]*template.Template
		}{
			{"line", texts.Line, &k.line}, {"facts", texts.Facts, &k.facts},
			{"lookFor", texts.LookFor, &k.lookFor}, {"expect", texts.Expect, &k.expect},
		} {
			if len(part.texts) == 0 {
				return nil, fmt.Errorf("phrases.json: %s has no %s", kind, part.name)
			}
			for i, text := range part.texts {
				t, err := template.New(part.name).Parse(text)
				if err == nil {
					err = t.Execute(new(strings.Builder), &phrase{})
				}
				if err != nil {
					return nil, fmt.Errorf("phrases.json: %s, %s, number %d: %w", kind, part.name, i+1, err)
				}
				*part.into = append(*part.into, t)
			}
		}
		l.templates[kind] = k
	}

	for id, h := range l.targets {
		if err := h.tooLong(); err != nil {
			return nil, fmt.Errorf("targets.json: %s: %w", id, err)
		}
	}
	return l, nil
}

func readJSON(folder fs.FS, name string, into any) error {
	text, err := fs.ReadFile(folder, name)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(text, into); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

func (h handWritten) tooLong() error {
	if len(h.Facts) > MaxFacts {
		return fmt.Errorf("%d facts, at most %d", len(h.Facts), MaxFacts)
	}
	return Words{h.Line, h.Facts, h.LookFor, h.Expect, h.Find}.tooLong()
}

// tooLong says what does not fit on a card.
func (w Words) tooLong() error {
	check := func(field, text string, limit int) error {
		if n := utf8.RuneCountInString(text); n > limit {
			return fmt.Errorf("%s has %d characters, at most %d fit", field, n, limit)
		}
		return nil
	}
	if err := check("line", w.Line, MaxLine); err != nil {
		return err
	}
	for i, f := range w.Facts {
		if err := check(fmt.Sprintf("fact %d", i+1), f, MaxFact); err != nil {
			return err
		}
	}
	if err := check("lookFor", w.LookFor, MaxLookFor); err != nil {
		return err
	}
	if err := check("expect", w.Expect, MaxExpect); err != nil {
		return err
	}
	return check("find", w.Find, MaxFind)
}

// speak gives a target its name, distance and words in this language. What it
// has already stays.
func (l *Language) speak(t *Target) {
	h := l.targets[t.ID]
	if h.Name != "" && !t.Own {
		t.Name = h.Name
	}
	if t.Distance == "" {
		t.Distance = l.distanceWords(t.LightYears, t.DistanceError)
	}

	w := &t.Words
	prefer(&w.Line, h.Line)
	prefer(&w.LookFor, h.LookFor)
	prefer(&w.Expect, h.Expect)
	prefer(&w.Find, h.Find)
	if len(w.Facts) == 0 {
		w.Facts = h.Facts
	}

	if w.Line != "" && len(w.Facts) > 0 && w.LookFor != "" && w.Expect != "" && w.Find != "" {
		return
	}
	spoken := l.phraseOf(*t)
	p := &spoken
	k := l.templates[t.Kind]
	pick := int(seed(t.ID))
	if w.Line == "" {
		w.Line = say(rotate(k.line, pick), p, 1)[0]
	}
	if len(w.Facts) == 0 {
		w.Facts = say(k.facts, p, MaxFacts)
	}
	if w.LookFor == "" {
		w.LookFor = say(rotate(k.lookFor, pick), p, 1)[0]
	}
	if w.Expect == "" {
		w.Expect = say(k.expect, p, 1)[0]
	}
	if w.Find == "" {
		w.Find = l.findWords(*t)
	}
}

func prefer(have *string, other string) {
	if *have == "" {
		*have = other
	}
}

// say fills templates in order until n are not empty. Always at least one
// string, so that a language without words for a kind leaves a gap, not a crash.
func say(templates []*template.Template, p *phrase, n int) []string {
	var said []string
	var b strings.Builder
	for _, t := range templates {
		if len(said) == n {
			break
		}
		b.Reset()
		if err := t.Execute(&b, p); err != nil {
			continue // tried on reading; only a number out of reason could fail here
		}
		if s := strings.TrimSpace(b.String()); s != "" {
			said = append(said, s)
		}
	}
	if len(said) == 0 {
		said = []string{""}
	}
	return said
}

// rotate starts a list elsewhere, so that neighbours on a page differ.
func rotate(list []*template.Template, by int) []*template.Template {
	if len(list) < 2 {
		return list
	}
	by %= len(list)
	return append(append([]*template.Template{}, list[by:]...), list[:by]...)
}

// seed is a small number that is always the same for the same id (FNV-1a).
func seed(id string) uint32 {
	h := uint32(2166136261)
	for i := range len(id) {
		h = (h ^ uint32(id[i])) * 16777619
	}
	return h >> 8
}

func (l *Language) kindWord(k Kind) string {
	if w := l.phrases.Kinds[k]; w != "" {
		return w
	}
	return string(k)
}

// KindWord is what a kind is called in the catalogue's language.
func (c *Catalog) KindWord(k Kind) string { return c.language.kindWord(k) }

// ConstellationName is what a constellation (three letters) is called in the
// catalogue's language; empty for an unknown one.
func (c *Catalog) ConstellationName(id string) string { return c.language.constellation(id) }

func (l *Language) constellation(id string) string {
	c, found := constellationOf(id)
	switch {
	case !found:
		return ""
	case l.phrases.Constellation == "de":
		return c.German
	case l.phrases.Constellation == "en":
		return c.English
	}
	return c.Name
}

func (l *Language) colours(english string) string {
	if w, found := l.phrases.Colours[english]; found {
		return w
	}
	return english
}
