package catalog

import (
	"slices"
	"sort"
	"strings"
	"sync"
	"unicode"
)

// searchKeys is what a target is found by.
type searchKeys struct {
	exact []string // compact: id, names, designations
	name  []string // compact names alone, for Nearest
	words []string // folded words of everything: names, constellation, kind
}

// Search finds targets by name, number, constellation (name or abbreviation)
// and kind, in any mixture: "m 31", "NGC7000", "north america", "double cyg",
// "open clusters in auriga". Case, spaces, accents and punctuation do not
// matter; Greek letters may be spelled out. What is called exactly so comes
// first, then names that begin so, then the rest; within these the ones guests
// like best. An empty query finds nothing.
func (c *Catalog) Search(query string) []Target {
	want := compact(query)
	if want == "" {
		return nil
	}
	words := queryWords(query)

	type hit struct{ index, rank int }
	var hits []hit
	for i, k := range c.keys() {
		if rank := k.rank(want, words); rank > 0 {
			hits = append(hits, hit{i, rank})
		}
	}
	if len(hits) == 0 && endsInDigit(want) {
		// A number half typed: "ngc 70" on the way to NGC 7000.
		for i, k := range c.keys() {
			if slices.ContainsFunc(k.exact, func(s string) bool { return strings.HasPrefix(s, want) }) {
				hits = append(hits, hit{i, 1})
			}
		}
	}
	sort.SliceStable(hits, func(a, b int) bool {
		if hits[a].rank != hits[b].rank {
			return hits[a].rank > hits[b].rank
		}
		return c.targets[hits[a].index].Delight > c.targets[hits[b].index].Delight
	})

	found := make([]Target, len(hits))
	for i, h := range hits {
		found[i] = c.targets[h.index]
	}
	return found
}

// rank is 0 for no match, higher for a better one.
func (k searchKeys) rank(want string, words []string) int {
	if slices.Contains(k.exact, want) {
		return 4
	}
	for _, n := range k.name {
		if rest, begins := strings.CutPrefix(n, want); begins && !(endsInDigit(want) && startsWithDigit(rest)) {
			return 3 // but "m 3" is not the beginning of M 31
		}
	}
	if len(words) > 0 && k.hasAll(words) {
		return 2
	}
	// Inside a name only from four letters on: "ring" is in "herring".
	if len(want) >= 4 && !endsInDigit(want) {
		for _, n := range k.name {
			if strings.Contains(n, want) {
				return 1
			}
		}
	}
	return 0
}

// hasAll says whether every word begins a word of the target. Numbers and single
// letters must be whole: "m 3" is not M 31, nor "c 3" a cluster.
func (k searchKeys) hasAll(words []string) bool {
	for _, w := range words {
		whole := endsInDigit(w) || len(w) == 1
		if !slices.ContainsFunc(k.words, func(have string) bool {
			if whole {
				return have == w
			}
			return strings.HasPrefix(have, w)
		}) {
			return false
		}
	}
	return true
}

func endsInDigit(s string) bool { return s != "" && isDigit(s[len(s)-1]) }

func startsWithDigit(s string) bool { return s != "" && isDigit(s[0]) }

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// keysOf collects what a target is found by: its name in this language and
// before translation, its numbers, constellation and kind.
func keysOf(t Target, plain string, l *Language) searchKeys {
	var k searchKeys
	addExact := func(s string) {
		if s := compact(s); s != "" && !slices.Contains(k.exact, s) {
			k.exact = append(k.exact, s)
		}
	}
	addWords := func(s string) {
		for _, w := range foldedWords(s) {
			if !slices.Contains(k.words, w) {
				k.words = append(k.words, w)
			}
		}
	}

	addExact(t.ID)
	for _, name := range []string{t.Name, plain} {
		addExact(name)
		addWords(name)
		if n := compact(name); !slices.Contains(k.name, n) {
			k.name = append(k.name, n)
		}
	}
	for _, d := range t.Designations {
		addExact(d)
		addExact(withoutIndex(d))
		addWords(d)
		addWords(withoutIndex(d))
		if n := compact(d); endsInDigit(n) && !slices.Contains(k.words, n) {
			k.words = append(k.words, n) // "ngc869" as one word
		}
		if len(d) > 8 { // a second name, not a number
			k.name = append(k.name, compact(d))
		}
	}
	if c, found := constellationOf(t.Constellation); found {
		for _, s := range []string{c.ID, c.Name, c.Genitive, c.English, l.constellation(c.ID)} {
			addWords(s)
		}
	}
	addWords(string(t.Kind))
	addWords(l.kindWord(t.Kind))
	return k
}

// withoutIndex takes the number off a Greek letter: "β1 Cyg" is also "β Cyg".
func withoutIndex(designation string) string {
	letter, rest, found := strings.Cut(designation, " ")
	short := strings.TrimRight(letter, "0123456789")
	if !found || short == "" || short == letter || greek[firstRune(short)] == "" {
		return designation
	}
	return short + " " + rest
}

func constellationOf(id string) (Constellation, bool) {
	c, found := constellationsByID()[id]
	return c, found
}

var constellationsByID = sync.OnceValue(func() map[string]Constellation {
	byID := make(map[string]Constellation)
	for _, c := range Constellations() {
		byID[c.ID] = c
	}
	return byID
})

// catalogues are the letters that make one word with the number behind them.
var catalogues = []string{"m", "c", "ngc", "ic", "mel", "cr", "tr", "sh", "b", "hip"}

// queryWords are the words that must all be met. Small words are left out,
// plurals become singular, "messier 31" is "m31".
func queryWords(query string) []string {
	var words []string
	for _, w := range foldedWords(query) {
		switch w {
		case "in", "of", "the", "and", "a", "der", "die", "das", "im", "und":
			continue
		case "messier":
			w = "m"
		case "caldwell":
			w = "c"
		}
		if last := len(words) - 1; last >= 0 && startsWithDigit(w) && slices.Contains(catalogues, words[last]) {
			words[last] += w
			continue
		}
		words = append(words, singular(w))
	}
	return words
}

// singular turns the plurals of kinds into what the targets are called; other
// words lose an s at most, which a match at the beginning of a word forgives.
func singular(w string) string {
	switch {
	case len(w) <= 4:
		return w
	case strings.HasSuffix(w, "ies"):
		return strings.TrimSuffix(w, "ies")
	case strings.HasSuffix(w, "ulae"):
		return strings.TrimSuffix(w, "e")
	}
	return strings.TrimSuffix(w, "s")
}

// compact folds a text to bare letters and digits, so that "M 31", "m31",
// "Messier 31" and "M 031" are the same.
func compact(s string) string {
	words := foldedWords(s)
	for i, w := range words {
		switch w {
		case "messier":
			words[i] = "m"
		case "caldwell":
			words[i] = "c"
		}
	}
	return strings.Join(words, "")
}

// foldedWords splits a text into lower-case words without accents; a change
// between letters and digits is also a border, zeros in front of a number are
// dropped, Greek letters are spelled out.
func foldedWords(s string) []string {
	var words []string
	var word strings.Builder
	digits := false
	end := func() {
		w := word.String()
		word.Reset()
		if w == "" {
			return
		}
		if digits {
			w = strings.TrimLeft(w[:len(w)-1], "0") + w[len(w)-1:]
		}
		words = append(words, w)
	}
	for _, r := range s {
		r = unicode.ToLower(r)
		if name, isGreek := greek[r]; isGreek {
			end()
			digits = false
			word.WriteString(name)
			continue
		}
		switch {
		case r == '\'' || r == '’': // "Job's" is "jobs"
		case unicode.IsDigit(r) && r < unicode.MaxASCII:
			if !digits {
				end()
			}
			digits = true
			word.WriteRune(r)
		case unicode.IsLetter(r):
			if digits {
				end()
			}
			digits = false
			if plain, accented := unaccented[r]; accented {
				word.WriteString(plain)
			} else {
				word.WriteRune(r)
			}
		default:
			end()
			digits = false
		}
	}
	end()
	return words
}

func firstRune(s string) rune {
	for _, r := range s {
		return r
	}
	return 0
}

var greek = map[rune]string{
	'α': "alpha", 'β': "beta", 'γ': "gamma", 'δ': "delta", 'ε': "epsilon", 'ζ': "zeta", 'η': "eta", 'θ': "theta",
	'ι': "iota", 'κ': "kappa", 'λ': "lambda", 'μ': "mu", 'ν': "nu", 'ξ': "xi", 'ο': "omicron", 'π': "pi",
	'ρ': "rho", 'σ': "sigma", 'ς': "sigma", 'τ': "tau", 'υ': "upsilon", 'φ': "phi", 'χ': "chi", 'ψ': "psi", 'ω': "omega",
	'µ': "mu", // the micro sign, which keyboards give
}

var unaccented = map[rune]string{
	'ä': "a", 'á': "a", 'à': "a", 'â': "a", 'å': "a", 'ã': "a", 'æ': "ae", 'ç': "c",
	'é': "e", 'è': "e", 'ê': "e", 'ë': "e", 'í': "i", 'ì': "i", 'î': "i", 'ï': "i", 'ñ': "n",
	'ö': "o", 'ó': "o", 'ò': "o", 'ô': "o", 'õ': "o", 'ø': "o", 'ß': "ss", 'ü': "u", 'ú': "u", 'ù': "u", 'û': "u", 'ý': "y",
}
