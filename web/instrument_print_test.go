package web_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestInstrumentSheetsPrintOnOnePage: "know your telescope" is one page of
// either paper in each language, for every design of the invented club, in
// black with white margins; the comparison is one page, too.
func TestInstrumentSheetsPrintOnOnePage(t *testing.T) {
	ctx := printer(t)
	v := planned(t, 0)
	dir := t.TempDir()
	keep := os.Getenv("DUSKBOARD_SHEETS") // a folder to look at what is printed
	for _, paper := range []struct {
		name        string
		size        chromedp.PaperSize
		instruments []int
	}{{"a4", chromedp.PaperA4, []int{1, 6}}, {"letter", chromedp.PaperLetter, []int{1, 2, 3, 4, 5, 6, 7, 8, 9}}} { // the lower paper is the hard one
		for _, lang := range []string{"en", "de"} {
			pages := map[string]string{"compare": "/kit/compare?lang=" + lang}
			for _, i := range paper.instruments {
				pages[fmt.Sprint("sheet-", i)] = fmt.Sprintf("/kit/instruments/%d/sheet?lang=%s", i, lang)
			}
			for name, path := range pages {
				name = paper.name + "-" + lang + "-" + name
				if err := chromedp.Do(ctx, chromedp.Navigate(v.base+path)); err != nil {
					t.Fatal(err)
				}
				pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper.size)))
				if err != nil {
					t.Fatal(err)
				}
				file := filepath.Join(dir, name+".pdf")
				if err := os.WriteFile(file, pdf, 0o600); err != nil {
					t.Fatal(err)
				}
				if keep != "" {
					if err := os.WriteFile(filepath.Join(keep, name+".pdf"), pdf, 0o600); err != nil {
						t.Fatal(err)
					}
				}
				if n := len(pageBoxes(t, file)); n != 1 {
					t.Errorf("%s: %d pages, want 1", name, n)
				}
				if out, err := exec.Command("pdftoppm", "-r", "60", "-png", "-singlefile", file, filepath.Join(dir, name)).CombinedOutput(); err != nil {
					t.Fatalf("%v: %s", err, out)
				}
				if fault := inkFault(t, filepath.Join(dir, name+".png"), 8, 0); fault != "" {
					t.Errorf("%s: %s", name, fault)
				}
			}
		}
	}
}
