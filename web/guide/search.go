package guide

import (
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

const (
	// longestQuery bounds what a search reads, in bytes: longer than any question.
	longestQuery = 200
	// mostWords bounds the words of a search.
	mostWords = 12
	// longestSaid is about how much of a long sentence is shown, in bytes.
	longestSaid = 260
)

// Found is one page that holds every word of a search.
type Found struct {
	Page    *Page
	Heading string // id of the heading over the sentence; "" is the top
	Said    []Piece
}

// Piece is a stretch of a sentence; Marked ones are what was looked for.
type Piece struct {
	Text   string
	Marked bool
}

// Search finds the pages that hold all words of a query, in any order, as words
// or beginnings of words; the best first. The sentence shown is the one that
// holds most of them. unknown are the words that stand on no page at all. An
// empty query finds nothing.
func (b *Book) Search(query string) (found []Found, unknown []string) {
	wanted := queryWords(query)
	if len(wanted) == 0 {
		return nil, nil
	}
	for _, q := range wanted {
		if !b.knows(q) {
			unknown = append(unknown, q)
		}
	}
	if len(unknown) > 0 {
		return nil, unknown
	}
	var scores []int
	for _, g := range b.Groups {
		for _, p := range g.Pages {
			if best, score, all := p.match(wanted); all {
				found = append(found, Found{Page: p, Heading: best.heading, Said: said(best, wanted)})
				scores = append(scores, score)
			}
		}
	}
	sort.Stable(byScore{found, scores})
	return found, nil
}

// match looks for the words in a page: its best sentence, how good the page is,
// and whether every word stands in it.
func (p *Page) match(wanted []string) (best part, score int, all bool) {
	seen := map[string]bool{}
	most, text := 0, 0
	for _, x := range p.parts {
		here := 0
		for _, q := range wanted {
			if x.holds(q) {
				seen[q] = true
				here++
			}
		}
		weight := here * here // words beside each other mean more than words apart
		switch x.kind {
		case inTitle:
			score += 12 * weight
		case inHeading:
			score += 5 * weight
		default:
			text = max(text, 3*weight)
			if here > 0 {
				score++
			}
		}
		// A sentence says more than a title, unless the title holds more.
		if rank := 4*here + value(x.kind); here > 0 && rank > most {
			best, most = x, rank
		}
	}
	return best, min(score, 60) + text, len(seen) == len(wanted)
}

func value(k kind) int {
	if k == inText {
		return 1
	}
	return 0
}

func (x part) holds(q string) bool {
	for _, w := range x.words {
		if begins(w.text, q) {
			return true
		}
	}
	return false
}

func (b *Book) knows(q string) bool {
	for w := range b.words {
		if begins(w, q) {
			return true
		}
	}
	return false
}

// begins reports whether a word is what was asked for: it begins with it, with
// or without the s of a plural.
func begins(w, q string) bool {
	return strings.HasPrefix(w, q) || len(q) > 3 && strings.HasPrefix(w, strings.TrimSuffix(q, "s"))
}

// queryWords are the distinct words of a query, in order.
func queryWords(query string) []string {
	if len(query) > longestQuery {
		query = query[:longestQuery]
	}
	var out []string
	have := map[string]bool{}
	for _, field := range strings.Fields(strings.ReplaceAll(query, "-", " ")) {
		for _, w := range wordsOf(field) {
			if !have[w.text] && len(out) < mostWords {
				have[w.text] = true
				out = append(out, w.text)
			}
		}
	}
	return out
}

// said is a sentence with the words marked; of a very long one, the stretch
// around the first of them.
func said(x part, wanted []string) []Piece {
	marked := make([]bool, len(x.text)+1)
	first := -1
	for _, w := range x.words {
		for _, q := range wanted {
			if begins(w.text, q) {
				for i := w.start; i < w.end; i++ {
					marked[i] = true
				}
				if first < 0 || w.start < first {
					first = w.start
				}
			}
		}
	}
	from, to := 0, len(x.text)
	if to > longestSaid {
		from = cut(x.text, max(0, first-longestSaid/3))
		to = cut(x.text, min(to, from+longestSaid))
	}
	var out []Piece
	if from > 0 {
		out = append(out, Piece{Text: "… "})
	}
	for i := from; i < to; {
		j := i
		for j < to && marked[j] == marked[i] {
			j++
		}
		out = append(out, Piece{Text: x.text[i:j], Marked: marked[i]})
		i = j
	}
	if to < len(x.text) {
		out = append(out, Piece{Text: " …"})
	}
	return out
}

// cut moves a place in a text back to the beginning of a word.
func cut(s string, at int) int {
	for at > 0 && at < len(s) && s[at-1] != ' ' {
		at--
	}
	return at
}

type byScore struct {
	found  []Found
	scores []int
}

func (s byScore) Len() int           { return len(s.found) }
func (s byScore) Less(i, j int) bool { return s.scores[i] > s.scores[j] }
func (s byScore) Swap(i, j int) {
	s.found[i], s.found[j] = s.found[j], s.found[i]
	s.scores[i], s.scores[j] = s.scores[j], s.scores[i]
}

func decode(s string) (rune, int) { return utf8.DecodeRuneInString(s) }

// letter reports whether a rune belongs to a word.
func letter(r rune) bool { return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r)) }

// fold makes upper and lower case alike.
func fold(s string) string { return strings.ToLower(s) }
