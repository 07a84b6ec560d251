package guide

import (
	"reflect"
	"strings"
	"testing"
)

func keys(found []Found) []string {
	var out []string
	for _, f := range found {
		out = append(out, f.Page.Key)
	}
	return out
}

func joined(pieces []Piece) (text string, marked []string) {
	for _, p := range pieces {
		text += p.Text
		if p.Marked {
			marked = append(marked, strings.ToLower(p.Text))
		}
	}
	return text, marked
}

// TestSearchFindsTheTask asks as people do, and wants the page of the task
// first.
func TestSearchFindsTheTask(t *testing.T) {
	b := open(t)
	for _, c := range []struct{ query, first string }{
		{"line-up", "line-up"}, {"lineup", "line-up"}, {"up line", "line-up"}, {"LINE-UP", "line-up"},
		{"dew", "dew"}, {"cloud", "cloud"}, {"cancels", "dropout"}, {"password forgotten", "accounts"}, {"forgotten password", "accounts"},
		{"keys", "keys"}, {"Exit pupil", "numbers"}, {"horizon outline", "site"}, {"volunteers import", "volunteers"}, {"thunder", "cautions"},
		{"back up", "backup"}, {"forget volunteer", "privacy"}, {"cards", "print"}, {"departure", "departure"}, {"laser", "cautions"},
	} {
		found, unknown := b.Search(c.query)
		if len(unknown) > 0 || len(found) == 0 || found[0].Page.Key != c.first {
			t.Errorf("%q finds %v (unknown %v), want %s first", c.query, keys(found), unknown, c.first)
		}
	}
}

// TestSearchInAnyOrder guards that the order of the words does not matter, and
// that each word is asked for.
func TestSearchInAnyOrder(t *testing.T) {
	b := open(t)
	there, _ := b.Search("eyepiece height children")
	back, _ := b.Search("children  height eyepiece,")
	if len(there) == 0 || !reflect.DeepEqual(keys(there), keys(back)) {
		t.Errorf("%v and %v differ", keys(there), keys(back))
	}
	one, _ := b.Search("children")
	if len(one) <= len(there) {
		t.Errorf("one word finds %d pages, three find %d", len(one), len(there))
	}
}

// TestSearchShowsTheSentence guards that the sentence holds the words, marked.
func TestSearchShowsTheSentence(t *testing.T) {
	found, _ := open(t).Search("residual current")
	if len(found) != 1 {
		t.Fatalf("found %v", keys(found))
	}
	text, marked := joined(found[0].Said)
	if want := "Mains only by somebody competent, behind residual-current protection, with outdoor cables."; text != want {
		t.Errorf("shows %q, want %q", text, want)
	}
	if got := strings.Join(marked, "|"); got != "residual|current" && got != "residual-current" {
		t.Errorf("marks %q", got)
	}
	if found[0].Heading != "electricity" {
		t.Errorf("leads to #%s, want #electricity", found[0].Heading)
	}
}

// TestSearchFindsNothing tells apart nothing asked, words that are nowhere, and
// words that are on no page together.
func TestSearchFindsNothing(t *testing.T) {
	b := open(t)
	for _, q := range []string{"", "   ", "?!", "\x00\xff"} {
		if found, unknown := b.Search(q); found != nil || unknown != nil {
			t.Errorf("%q finds %v, unknown %v", q, keys(found), unknown)
		}
	}
	if found, unknown := b.Search("dew zebra <b> quagga"); found != nil || !reflect.DeepEqual(unknown, []string{"zebra", "quagga"}) {
		t.Errorf("finds %v, unknown %v", keys(found), unknown)
	}
	if found, unknown := b.Search("spreadsheet lightning"); len(found) > 0 || len(unknown) > 0 {
		t.Errorf("finds %v, unknown %v", keys(found), unknown)
	}
}

// FuzzSearch asks anything: it must neither fail nor find a page that lacks a
// word, and what it shows must stand on the page.
func FuzzSearch(f *testing.F) {
	for _, q := range []string{"line-up", "exit pupil", "a", "é ß İ", "-", "--x-y--", "<script>", "\xff\xfe", strings.Repeat("dew ", 99), "I'm", "½″"} {
		f.Add(q)
	}
	b := open(f)
	f.Fuzz(func(t *testing.T, query string) {
		found, unknown := b.Search(query)
		if len(found) > 0 && len(unknown) > 0 {
			t.Fatalf("%q: found %v though %v are unknown", query, keys(found), unknown)
		}
		for _, x := range found {
			whole := ""
			for _, p := range x.Page.parts {
				whole += p.text + "\n"
			}
			text, marked := joined(x.Said)
			if bare := strings.TrimSuffix(strings.TrimPrefix(text, "… "), " …"); bare == "" || !strings.Contains(whole, bare) {
				t.Fatalf("%q shows %q, which is not on page %s", query, text, x.Page.Key)
			}
			if len(marked) == 0 {
				t.Fatalf("%q: nothing is marked in %q", query, text)
			}
			flat := strings.ReplaceAll(strings.ToLower(whole), "-", "")
			for _, w := range queryWords(query) {
				if !strings.Contains(flat, strings.TrimSuffix(w, "s")) {
					t.Fatalf("%q finds page %s, which lacks %q", query, x.Page.Key, w)
				}
			}
		}
	})
}

func BenchmarkSearch(b *testing.B) {
	book := open(b)
	for b.Loop() {
		book.Search("eyepiece height children")
	}
}
