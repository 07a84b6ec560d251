package main

import (
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// mostPages bounds the walk; the demo has about two hundred pages, most of
// them reasons and forms of single pieces.
const mostPages = 500

// TestEveryPageOfTheDemo walks every link of the demo and guards what each page
// owes: an answer, a title, one heading, no inline style or script (the content
// policy would refuse them), an id only once, and links that lead somewhere.
func TestEveryPageOfTheDemo(t *testing.T) {
	base := started(t, "--demo")
	seen := map[string]bool{"/": true}
	queue := []string{"/"}
	from := map[string]string{}
	kinds := map[string]int{}
	for n := 0; len(queue) > 0 && n < mostPages; n++ {
		path := queue[0]
		queue = queue[1:]
		resp, err := http.Get(base + path)
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(resp.Body)
		resp.Body.Close()
		if err != nil {
			t.Fatal(err)
		}
		if resp.StatusCode != http.StatusOK {
			t.Errorf("%s (linked from %s): status %d", path, from[path], resp.StatusCode)
			continue
		}
		if !strings.HasPrefix(resp.Header.Get("Content-Type"), "text/html") {
			continue
		}
		root, err := html.Parse(strings.NewReader(string(body)))
		if err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		for _, fault := range pageFaults(root) {
			t.Errorf("%s: %s", path, fault)
		}
		for _, link := range linksOf(root, path) {
			// A page with another query is another view of the same kind: a few
			// of each kind are enough.
			kind := kindOfPath(link)
			if seen[link] || kinds[kind] >= 6 {
				continue
			}
			seen[link], from[link] = true, path
			kinds[kind]++
			queue = append(queue, link)
		}
	}
	if len(seen) < 40 {
		t.Errorf("walked %d pages only: the demo has more", len(seen))
	}
}

// pageFaults are what a page must not lack or have.
func pageFaults(root *html.Node) []string {
	var faults []string
	headings, titles := 0, 0
	ids := map[string]int{}
	for n := range root.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		switch n.Data {
		case "h1":
			headings++
		case "title":
			if n.Namespace == "" && n.FirstChild != nil {
				titles++
			}
		case "style":
			faults = append(faults, "an inline style element")
		case "script":
			if attrOf(n, "src") == "" {
				faults = append(faults, "an inline script")
			}
		case "img":
			if !hasAttr(n, "alt") {
				faults = append(faults, "a picture without a text alternative")
			}
		}
		if id := attrOf(n, "id"); id != "" {
			ids[id]++
		}
		for _, a := range n.Attr {
			if a.Key == "style" || strings.HasPrefix(a.Key, "on") {
				faults = append(faults, fmt.Sprintf("an inline %s on <%s>", a.Key, n.Data))
			}
		}
	}
	if headings != 1 {
		faults = append(faults, fmt.Sprintf("%d first headings, want one", headings))
	}
	if titles != 1 {
		faults = append(faults, fmt.Sprintf("%d titles, want one", titles))
	}
	for id, n := range ids {
		if n > 1 {
			faults = append(faults, fmt.Sprintf("the id %q stands %d times", id, n))
		}
	}
	return faults
}

func attrOf(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func hasAttr(n *html.Node, key string) bool {
	for _, a := range n.Attr {
		if a.Key == key {
			return true
		}
	}
	return false
}

// linksOf returns the addresses on this server that a page leads to.
func linksOf(root *html.Node, at string) []string {
	here, err := url.Parse(at)
	if err != nil {
		return nil
	}
	var out []string
	for n := range root.Descendants() {
		if n.Type != html.ElementNode || n.Data != "a" {
			continue
		}
		u, err := here.Parse(attrOf(n, "href"))
		if err != nil || u.Host != "" || u.Scheme != "" || u.Path == "" {
			continue
		}
		u.Fragment = ""
		out = append(out, u.String())
	}
	return out
}

// kindOfPath names the kind of a page: its address with numbers and queries
// taken out.
func kindOfPath(path string) string {
	u, err := url.Parse(path)
	if err != nil {
		return path
	}
	parts := strings.Split(u.Path, "/")
	for i, p := range parts {
		if strings.Trim(p, "0123456789") == "" && p != "" {
			parts[i] = "N"
		}
	}
	if len(parts) > 2 && parts[1] == "guide" && parts[2] != "all" {
		parts[2] = "task" // each page of the guide is made alike
	}
	if len(parts) > 3 && parts[1] == "words" {
		parts[3] = "target" // and the words of each target
	}
	return strings.Join(parts, "/")
}
