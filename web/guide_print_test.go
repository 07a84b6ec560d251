package web_test

import (
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// wordPlace is a word of pdftotext's list of places, with its right edge in points.
var wordPlace = regexp.MustCompile(`<word xMin="([0-9.]+)" yMin="[0-9.]+" xMax="([0-9.]+)"`)

// TestGuidePrints prints the whole guide on both papers: every page of the guide
// is on it, and no word stands in the margins or is cut off.
func TestGuidePrints(t *testing.T) {
	ctx := printer(t)
	v := visit(t)
	var titles []string
	for _, a := range v.get("/guide").wants(http.StatusOK).all(tag("a")) {
		if strings.HasPrefix(attr(a, "href"), "/guide/") && attr(a, "href") != "/guide/all" && attr(a, "data-testid") == "" {
			titles = append(titles, text(a))
		}
	}
	for _, paper := range []struct {
		name  string
		size  chromedp.PaperSize
		width float64 // points
	}{{"A4", chromedp.PaperA4, 595}, {"Letter", chromedp.PaperLetter, 612}} {
		t.Run(paper.name, func(t *testing.T) {
			if err := chromedp.Do(ctx, chromedp.Navigate(v.base+"/guide/all")); err != nil {
				t.Fatal(err)
			}
			pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper.size)))
			if err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(t.TempDir(), "guide.pdf")
			if err := os.WriteFile(file, pdf, 0o600); err != nil {
				t.Fatal(err)
			}
			out, err := exec.Command("pdftotext", "-layout", file, "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			flat := strings.Join(strings.Fields(string(out)), " ")
			for _, title := range titles {
				if !strings.Contains(flat, title) {
					t.Errorf("%q is not on the paper", title)
				}
			}
			out, err = exec.Command("pdftotext", "-bbox", file, "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			words := wordPlace.FindAllStringSubmatch(string(out), -1)
			if len(words) < 5000 {
				t.Fatalf("only %d words are on the paper", len(words))
			}
			const margin = 40 // points; the sheet's margin is 18 mm, 51 points
			for _, w := range words {
				left, _ := strconv.ParseFloat(w[1], 64)
				right, _ := strconv.ParseFloat(w[2], 64)
				if left < margin || right > paper.width-margin {
					t.Errorf("a word stands from %s to %s of %.0f points", w[1], w[2], paper.width)
					return
				}
			}
		})
	}
}
