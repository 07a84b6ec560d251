package guide

import (
	"embed"
	"fmt"
	"path"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
)

//go:embed en/*.md
var files embed.FS

// Page is one task.
type Page struct {
	Key     string // in its address, "line-up"
	Title   string
	Summary string // one line
	source  []byte
	root    ast.Node // the text without title and summary
	parts   []part
}

// Book is the whole guide, parsed.
type Book struct {
	Groups []Group
	pages  map[string]*Page
	words  map[string]bool // every word that stands anywhere
}

// Open parses every page. An error means that a file of the program itself is
// not as a page must be.
func Open() (*Book, error) {
	b := &Book{pages: map[string]*Page{}, words: map[string]bool{}}
	for _, o := range order {
		g := Group{Key: o.key, Title: o.title, Lead: o.lead}
		for _, key := range o.pages {
			source, err := files.ReadFile(path.Join("en", key+".md"))
			if err != nil {
				return nil, fmt.Errorf("guide: %w", err)
			}
			p, err := parse(key, source)
			if err != nil {
				return nil, err
			}
			g.Pages = append(g.Pages, p)
			b.pages[key] = p
			for _, x := range p.parts {
				for _, w := range x.words {
					b.words[w.text] = true
				}
			}
		}
		b.Groups = append(b.Groups, g)
	}
	return b, nil
}

// Page returns the page with a key, or nil when there is none.
func (b *Book) Page(key string) *Page { return b.pages[key] }

// parse takes title and summary off a text and keeps the rest as a tree.
func parse(key string, source []byte) (*Page, error) {
	root := markdown.Parser().Parse(text.NewReader(source))
	title, ok := root.FirstChild().(*ast.Heading)
	if !ok || title.Level != 1 {
		return nil, fmt.Errorf("guide: %s.md does not begin with a title", key)
	}
	summary, ok := title.NextSibling().(*ast.Paragraph)
	if !ok {
		return nil, fmt.Errorf("guide: %s.md has no summary below its title", key)
	}
	p := &Page{Key: key, Title: plain(title, source), Summary: plain(summary, source), source: source, root: root}
	root.RemoveChild(root, title)
	root.RemoveChild(root, summary)
	p.parts = partsOf(p)
	return p, nil
}

// Href is the address of a page.
func (p *Page) Href() string { return "/guide/" + p.Key }

// plain is the text of a node without its markup; lines are joined by spaces.
func plain(n ast.Node, source []byte) string {
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch t := n.(type) {
		case *ast.Text:
			b.Write(t.Segment.Value(source))
			if t.SoftLineBreak() || t.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(t.Value)
		}
		return ast.WalkContinue, nil
	})
	return strings.Join(strings.Fields(b.String()), " ")
}
