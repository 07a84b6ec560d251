package guide

import (
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
)

// part is a sentence that can be found, with the heading it stands under.
type part struct {
	text    string
	heading string // id; "" is the top of the page
	kind    kind
	words   []word
}

type kind int

const (
	inText kind = iota
	inHeading
	inTitle
)

// word is a word of a text in lower case, with where it stands (bytes).
type word struct {
	text       string
	start, end int
}

// partsOf takes a page apart. A line of a table and a term with its meaning are
// one sentence each, since neither says anything alone.
func partsOf(p *Page) []part {
	parts := []part{newPart(p.Title, "", inTitle), newPart(p.Summary, "", inText)}
	heading, term := "", ""
	add := func(s string) {
		for _, x := range sentences(s) {
			parts = append(parts, newPart(x, heading, inText))
		}
	}
	_ = ast.Walk(p.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Heading:
			if id, ok := n.AttributeString("id"); ok {
				if b, ok := id.([]byte); ok {
					heading = string(b)
				}
			}
			parts = append(parts, newPart(plain(n, p.source), heading, inHeading))
			return ast.WalkSkipChildren, nil
		case *east.TableRow, *east.TableHeader:
			parts = append(parts, newPart(cells(n, p.source), heading, inText))
			return ast.WalkSkipChildren, nil
		case *east.DefinitionTerm:
			term = plain(n, p.source)
			parts = append(parts, newPart(term, heading, inHeading))
			return ast.WalkSkipChildren, nil
		case *east.DefinitionDescription:
			parts = append(parts, newPart(term+": "+plain(n, p.source), heading, inText))
			return ast.WalkSkipChildren, nil
		case *ast.Paragraph, *ast.TextBlock:
			add(plain(n, p.source))
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	return parts
}

// cells joins the cells of a row.
func cells(row ast.Node, source []byte) string {
	var all []string
	for c := row.FirstChild(); c != nil; c = c.NextSibling() {
		if s := plain(c, source); s != "" {
			all = append(all, s)
		}
	}
	return strings.Join(all, ": ")
}

func newPart(s, heading string, k kind) part {
	return part{text: s, heading: heading, kind: k, words: wordsOf(s)}
}

// sentences takes a paragraph apart after . ! ? : when a blank and a capital
// letter, a digit or a quotation mark follow.
func sentences(s string) []string {
	var out []string
	start := 0
	runes := []rune(s)
	for i := 0; i+2 < len(runes); i++ {
		if !strings.ContainsRune(".!?", runes[i]) || runes[i+1] != ' ' || !unicode.IsUpper(runes[i+2]) {
			continue
		}
		out = append(out, string(runes[start:i+1]))
		start = i + 2
	}
	if rest := strings.TrimSpace(string(runes[start:])); rest != "" {
		out = append(out, rest)
	}
	return out
}

// wordsOf finds the words of a text. One with a hyphen counts three times: each
// half, and both joined, so that "lineup" finds "line-up".
func wordsOf(s string) []word {
	var out []word
	joined := -1 // index of the word before a hyphen that touches it
	for i := 0; i < len(s); {
		r, n := decode(s[i:])
		if !letter(r) {
			if r != '-' || len(out) == 0 || out[len(out)-1].end != i {
				joined = -1
			} else {
				joined = len(out) - 1
			}
			i += n
			continue
		}
		start := i
		for i < len(s) {
			r, n := decode(s[i:])
			if !letter(r) {
				break
			}
			i += n
		}
		w := word{text: fold(s[start:i]), start: start, end: i}
		if joined >= 0 {
			before := out[joined]
			out = append(out, word{text: before.text + w.text, start: before.start, end: i})
			joined = -1
		}
		out = append(out, w)
	}
	return out
}
