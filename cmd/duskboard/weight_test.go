package main

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// pageBudget is the most that a page may bring over the air, in bytes, fonts
// left out: a phone on a field has one bar.
const pageBudget = 150_000

// TestPageWeight adds up what each kind of page brings, compressed, with its
// styles, scripts and pictures as if none were known yet. The whole set for
// the printer is no page for the field, and has twice the room.
func TestPageWeight(t *testing.T) {
	base := started(t, "--demo")
	known := map[string]int{}
	fetch := func(path string) (wire int, body []byte) {
		t.Helper()
		req, err := http.NewRequest(http.MethodGet, base+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Accept-Encoding", "gzip") // set by hand, so that the bytes stay as they came
		resp, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		defer resp.Body.Close()
		raw, err := io.ReadAll(resp.Body)
		if err != nil {
			t.Fatal(err)
		}
		if resp.Header.Get("Content-Encoding") != "gzip" {
			return len(raw), raw
		}
		z, err := gzip.NewReader(bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		if body, err = io.ReadAll(z); err != nil {
			t.Fatal(err)
		}
		return len(raw), body
	}
	for _, path := range onePageOfEachKind(t, base) {
		sum, body := fetch(path)
		root, err := html.Parse(bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		parts := 0
		for _, part := range partsOf(root) {
			if known[part] == 0 {
				known[part], _ = fetch(part)
			}
			sum += known[part]
			parts++
		}
		if parts == 0 {
			t.Errorf("%s loads no style and no script: nothing was added up", path)
		}
		most := pageBudget
		if strings.HasSuffix(path, "/print") {
			most *= 2
		}
		if sum > most {
			t.Errorf("%s brings %d bytes, at most %d", path, sum, most)
		}
	}
}

// partsOf are the styles, scripts and pictures that a page loads at once.
func partsOf(root *html.Node) []string {
	var out []string
	for n := range root.Descendants() {
		ref := ""
		switch {
		case n.Type != html.ElementNode:
		case n.Data == "link" && attrOf(n, "rel") == "stylesheet":
			ref = attrOf(n, "href")
		case n.Data == "script" || n.Data == "img":
			ref = attrOf(n, "src")
		}
		if strings.HasPrefix(ref, "/") {
			out = append(out, ref)
		}
	}
	return out
}
