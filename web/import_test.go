package web_test

import (
	"bytes"
	"context"
	"mime/multipart"
	"net/http"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// sendFile posts a file as a browser does.
func (v *visitor) sendFile(path, name, content string) page {
	v.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	f, err := w.CreateFormFile("file", name)
	if err != nil {
		v.t.Fatal(err)
	}
	if _, err := f.Write([]byte(content)); err != nil {
		v.t.Fatal(err)
	}
	if err := w.WriteField("text", ""); err != nil {
		v.t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		v.t.Fatal(err)
	}
	req, err := http.NewRequest(http.MethodPost, v.base+path, &b)
	if err != nil {
		v.t.Fatal(err)
	}
	req.Header.Set("Content-Type", w.FormDataContentType())
	return v.do(req)
}

// TestKitComesInByATable walks the page: what a table would do, the one
// button, the same table again, and out as a file.
func TestKitComesInByATable(t *testing.T) {
	v := visit(t)
	sound(t, "/kit/import", v.get("/kit/import").wants(http.StatusOK))
	table := "\xef\xbb\xbfkind;name;design;aperture;focallength;mount;weight;notes\r\n" +
		"instrument;The Barrel;newtonian;203,2;f/6;rocker-box;12,5;'=1+1\r\n" +
		"eyepiece;Wide;;;25;;;\r\n"
	p := v.sendFile("/kit/import", "kit.csv", table).wants(http.StatusOK)
	sound(t, "the preview", p)
	if said := p.testid("preview"); !strings.Contains(said, "2 added, 0 changed, 0 left alone") || !strings.Contains(said, "The Barrel") {
		t.Errorf("the preview says %q", said)
	}
	if k, err := v.store.Kit(context.Background(), true); err != nil || len(k.Instruments) != 0 {
		t.Fatalf("the preview saved: %+v, %v", k, err)
	}
	v.save("/kit/import", "text", p.value("text"), "keep", "1")
	k, err := v.store.Kit(context.Background(), true)
	if err != nil || len(k.Instruments) != 1 || k.Instruments[0].Notes != "=1+1" || k.Instruments[0].Weight != 12.5 {
		t.Fatalf("in the kit: %+v, %v", k.Instruments, err)
	}
	if p := v.post("/kit/import", "text", table).wants(http.StatusOK); !strings.Contains(p.testid("preview"), "0 added, 0 changed, 2 left alone") || p.value("keep") != "" {
		t.Errorf("the same table again: %q", p.testid("preview"))
	}
	out := v.get("/kit/export.csv").wants(http.StatusOK)
	if !strings.Contains(out.body, "'=1+1") || !strings.Contains(out.header.Get("Content-Disposition"), "attachment") {
		t.Errorf("the export: %q", out.body)
	}
	changed := v.post("/kit/import", "text", strings.Replace(table, "12,5", "13", 1)).wants(http.StatusOK)
	if !strings.Contains(changed.testid("preview"), "weight: 12.5 → 13") {
		t.Errorf("a change: %q", changed.testid("preview"))
	}
	if got := v.get("/kit/import/template.csv").wants(http.StatusOK); !strings.HasPrefix(got.body, "\ufeffkind,name,") {
		t.Errorf("the template: %.60q", got.body)
	}
}

// TestTableWithFaults guards that each fault is told with its row and column,
// that what was sent stays in the box, and that nothing is saved.
func TestTableWithFaults(t *testing.T) {
	v := visit(t)
	for name, c := range map[string]struct{ text, row, says string }{
		"a bad number":     {"kind,name,focallength\neyepiece,A,25\neyepiece,B,NaN\n", "3", "focallength"},
		"a bad kind":       {"kind,name\n\u202etelescope,A\n", "2", "kind"},
		"a far number":     {"kind,name,focallength\neyepiece,A,1e309\n", "2", "focallength"},
		"a strange column": {"kind,name,colour\neyepiece,A,red\n", "1", "colour"},
		"nothing":          {"", "the file", ""},
		"not text":         {"PK\x03\x04\x00\x00\x00", "the file", ""},
		"deep JSON":        {strings.Repeat("[", 100000), "", ""},
	} {
		p := v.post("/kit/import", "text", c.text, "keep", "1").wants(http.StatusUnprocessableEntity)
		if said := p.testid("row-faults"); !strings.Contains(said, c.row) || !strings.Contains(said, c.says) {
			t.Errorf("%s: the page says %q", name, said)
		}
		if got := p.value("text"); !strings.Contains(c.text, "\x00") && !strings.HasSuffix(got, c.text) {
			t.Errorf("%s: the box holds %.80q", name, got)
		}
		if n := p.all(func(n *html.Node) bool { return attr(n, "name") == "keep" }); len(n) > 0 {
			t.Errorf("%s: there is a button to save it", name)
		}
	}
	k, err := v.store.Kit(context.Background(), true)
	if err != nil || len(k.Eyepieces) != 0 {
		t.Errorf("saved: %+v, %v", k.Eyepieces, err)
	}
	v.sendFile("/kit/import", "big.csv", strings.Repeat("x", 10<<20)).wants(http.StatusRequestEntityTooLarge)
	v.sendFile("/kit/import", "wide.csv", "kind,name\n"+strings.Repeat("eyepiece,A\n", 150000)).wants(http.StatusUnprocessableEntity)
}
