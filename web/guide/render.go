package guide

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
)

// markdown is CommonMark with tables and lists of terms. Raw HTML stays off
// (goldmark writes a comment in its place), and so do addresses that a browser
// would run.
var markdown = goldmark.New(
	goldmark.WithExtensions(extension.Table, extension.DefinitionList),
	goldmark.WithParserOptions(parser.WithAutoHeadingID()),
)

var anchor = regexp.MustCompile(`<a href="([^"]*)">(.*?)</a>`)

// HTML is the body of a page. A link that may says no to stays as words only;
// nil lets all links be.
func (p *Page) HTML(may func(href string) bool) (string, error) {
	body, err := p.html()
	if err != nil {
		return "", err
	}
	return anchor.ReplaceAllStringFunc(body, func(link string) string {
		m := anchor.FindStringSubmatch(link)
		if may == nil || strings.HasPrefix(m[1], "#") || may(m[1]) {
			return link
		}
		return m[2]
	}), nil
}

func (p *Page) html() (string, error) {
	var out bytes.Buffer
	if err := markdown.Renderer().Render(&out, p.source, p.root); err != nil {
		return "", fmt.Errorf("guide: render %s: %w", p.Key, err)
	}
	return out.String(), nil
}

// Links are the addresses to which a page leads, in order.
func (p *Page) Links() []string {
	var links []string
	_ = ast.Walk(p.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if l, ok := n.(*ast.Link); ok && entering {
			links = append(links, string(l.Destination))
		}
		return ast.WalkContinue, nil
	})
	return links
}

// Names are the words in bold: buttons, fields and pages of the program.
func (p *Page) Names() []string {
	var names []string
	_ = ast.Walk(p.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if e, ok := n.(*ast.Emphasis); ok && entering && e.Level == 2 {
			names = append(names, plain(e, p.source))
		}
		return ast.WalkContinue, nil
	})
	return names
}

var (
	opening = regexp.MustCompile(`<h([2-5]) id="([^"]*)">`)
	closing = regexp.MustCompile(`</h([2-5])>`)
	within  = regexp.MustCompile(`<a href="/guide/([a-z-]+)(?:#([^"]*))?">`)
)

// InWhole is the body of a page as a part of the whole document: headings one
// step lower, their names made the page's own, and links to other pages of the
// guide leading to their place in the same document.
func (p *Page) InWhole(may func(href string) bool) (string, error) {
	body, err := p.HTML(may)
	if err != nil {
		return "", err
	}
	lower := func(level string) string { return string(level[0] + 1) }
	body = opening.ReplaceAllStringFunc(body, func(h string) string {
		m := opening.FindStringSubmatch(h)
		return fmt.Sprintf(`<h%s id="%s">`, lower(m[1]), placeIn(p.Key, m[2]))
	})
	body = closing.ReplaceAllStringFunc(body, func(h string) string {
		return "</h" + lower(closing.FindStringSubmatch(h)[1]) + ">"
	})
	return within.ReplaceAllStringFunc(body, func(a string) string {
		m := within.FindStringSubmatch(a)
		return `<a href="#` + placeIn(m[1], m[2]) + `">`
	}), nil
}

// placeIn names a place of the whole document: a page, or a heading in it.
func placeIn(key, heading string) string {
	if heading == "" {
		return key
	}
	return key + "--" + heading
}
