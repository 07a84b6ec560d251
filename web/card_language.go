package web

import (
	"context"
	"fmt"
	"maps"
	"strconv"
	"strings"

	"duskboard/internal/catalog"
	"duskboard/internal/night"
)

// languages are the languages of the cards as the club has them, English
// first: the program's, with the club's own words on targets, then those that
// the club added.
func (s *server) languages(ctx context.Context) ([]*cardWords, error) {
	var out []*cardWords
	for _, code := range catalog.Languages() {
		out = append(out, s.cardWords[code].clone())
	}
	added, err := s.store.CardLanguages(ctx)
	if err != nil {
		return nil, err
	}
	for _, l := range added {
		if !l.Removed {
			out = append(out, s.cardWords["en"].spoken(l))
		}
	}
	for _, w := range out {
		if w.own, err = s.store.CardWords(ctx, w.Code); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// clone is the same language, to lay the club's words over.
func (w *cardWords) clone() *cardWords {
	c := *w
	return &c
}

// spoken is a language of the club's own over English: what its file lacks
// stays English.
func (w *cardWords) spoken(l night.CardLanguage) *cardWords {
	c := *w
	c.Code, c.Name, c.Added, c.file = l.Code, l.Name, true, l.Texts
	if d := l.Texts["decimal"]; d != "" {
		c.Decimal = d
	}
	c.Texts = maps.Clone(w.Texts)
	for key := range c.Texts {
		if t := l.Texts["text."+key]; t != "" {
			c.Texts[key] = t
		}
	}
	c.Lists = map[string][]string{}
	for name, list := range w.Lists {
		own := make([]string, len(list))
		for i, english := range list {
			own[i] = english
			if t := l.Texts[listKey(name, i)]; t != "" {
				own[i] = t
			}
		}
		c.Lists[name] = own
	}
	return &c
}

func listKey(name string, i int) string { return fmt.Sprintf("list.%s.%d", name, i+1) }

// kind is what a kind of target is called.
func (w *cardWords) kind(k catalog.Kind) string {
	if t := w.file["kind."+string(k)]; t != "" {
		return t
	}
	return w.targets.KindWord(k)
}

// constellation is what a constellation is called, by its three letters.
func (w *cardWords) constellation(id string) string {
	if t := w.file["constellation."+id]; t != "" {
		return t
	}
	return w.targets.ConstellationName(id)
}

// child is what is said to a child about a target.
func (w *cardWords) child(t catalog.Target) string {
	if own := w.own[t.ID].Child; own != "" {
		return own
	}
	return w.shippedChild(t)
}

// shippedChild is the same without the club's own words.
func (w *cardWords) shippedChild(t catalog.Target) string {
	if line := w.file["target."+t.ID+".child"]; line != "" {
		return line
	}
	return w.say("child." + string(t.Kind))
}

// target is a target in this language, with the club's words laid over.
func (w *cardWords) target(t catalog.Target) catalog.Target {
	t = w.shipped(t)
	own, ok := w.own[t.ID]
	if !ok {
		return t
	}
	over := func(to *string, text string) {
		if text != "" {
			*to = text
		}
	}
	over(&t.Words.Line, own.Line)
	over(&t.Words.LookFor, own.LookFor)
	over(&t.Words.Expect, own.Expect)
	over(&t.Words.Find, own.Find)
	t.Words.Facts = laidOver(t.Words.Facts, own.Facts)
	return t
}

// laidOver are facts with those of the club in their places.
func laidOver(facts, own []string) []string {
	out := make([]string, 0, catalog.MaxFacts)
	for i := range catalog.MaxFacts {
		switch {
		case i < len(own) && own[i] != "":
			out = append(out, own[i])
		case i < len(facts):
			out = append(out, facts[i])
		}
	}
	return out
}

// shipped is a target as the language has it without the club's own words. A
// target that the club added keeps the words it came with.
func (w *cardWords) shipped(t catalog.Target) catalog.Target {
	if spoken, ok := w.targets.ByID(t.ID); ok && !t.Own {
		t = spoken
	}
	if w.file == nil {
		return t
	}
	over := func(to *string, field string) {
		if text := w.file["target."+t.ID+"."+field]; text != "" {
			*to = text
		}
	}
	over(&t.Name, "name")
	over(&t.Words.Line, "line")
	over(&t.Words.LookFor, "lookFor")
	over(&t.Words.Expect, "expect")
	over(&t.Words.Find, "find")
	var own []string
	for i := range catalog.MaxFacts {
		own = append(own, w.file["target."+t.ID+".fact."+strconv.Itoa(i+1)])
	}
	t.Words.Facts = laidOver(t.Words.Facts, own)
	return t
}

// quotes are the signs around what is said.
func (w *cardWords) quoted(s string) string {
	open, shut, ok := strings.Cut(w.say("quotes"), " ")
	if !ok {
		open, shut = "“", "”"
	}
	return open + s + shut
}
