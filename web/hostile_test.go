package web_test

import (
	"net/http"
	"strings"
	"testing"
)

// TestHeadersOnEveryAnswer scans pages, fragments, assets, redirects and errors
// for the headers that each answer owes (ASVS 5.0, 3.4), and for inline
// exceptions, other people's servers, and internals.
func TestHeadersOnEveryAnswer(t *testing.T) {
	g := startGuarded(t, nil)
	ada := g.coordinator()
	fill(ada)
	stranger := g.browser()
	var answers []page
	for _, path := range append(append([]string{"/", "/no/such/page", "/nights/0", "/nights/99", "/account", "/people", "/nights/1/history", "/static/none.css", "/healthz"}, everyPage...), filledPages...) {
		answers = append(answers, ada.get(path), stranger.get(path))
	}
	answers = append(answers, ada.post("/kit"), ada.post("/sites"), stranger.post("/sites"), ada.post("/nights/sky"))
	for _, p := range answers {
		h := p.header
		csp := h.Get("Content-Security-Policy")
		for _, part := range []string{"default-src 'self'", "object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'", "form-action 'self'"} {
			if !strings.Contains(csp, part) {
				t.Errorf("status %d: policy %q lacks %s", p.status, csp, part)
			}
		}
		if strings.Contains(csp, "unsafe") || strings.Contains(csp, "http:") || strings.Contains(csp, "https:") {
			t.Errorf("policy %q opens a door", csp)
		}
		if h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Referrer-Policy") == "" || h.Get("Server") != "" || h.Get("X-Powered-By") != "" {
			t.Errorf("status %d: headers %v", p.status, h)
		}
		if p.status >= 500 || strings.Contains(p.body, "goroutine ") || strings.Contains(p.body, ".go:") || strings.Contains(p.body, "sql") {
			t.Errorf("status %d shows internals: %.200s", p.status, p.body)
		}
	}
}

// hostile are values that some parser somewhere trips over.
var hostile = []string{
	"", "NaN", "-Inf", "1e309", "-1e309", "0x1p3", "1e9", "99999999999999999999", "-0", "½", "１２", "1,234,5", "90", "90.0000001", "-90", "180.1", "361",
	"0000-01-01", "0001-01-01", "9999-12-31", "10000-01-01", "2026-02-30", "24:00", "23:59:60", "\u202egnirts", "a\x00b", "\xff\xfe", "مرحبا", "🔭", "e\u0301\u0301\u0301",
	"<script>alert(1)</script>", `"><img src=x onerror=alert(1)>`, "'; DROP TABLE sites; --", "../../etc/passwd", "{{.}}", "%s%n", strings.Repeat("[", 20000), strings.Repeat("x", 100_000),
}

// TestHostileForms puts each hostile value into each field of each form: the
// answer is a refusal or a page, never an internal error, and no value comes
// out as markup.
func TestHostileForms(t *testing.T) {
	v := visit(t)
	fill(v)
	forms := []struct {
		path string
		base []string
	}{
		{"/sites", []string{"Name", "S", "Lat", "52.5 N", "Lon", "13.4 E", "Step", "4", "Elev", "10", "Zone", "Europe/Berlin", "Horizon", "E 20", "Measured", ""}},
		{"/kit/instruments", []string{"Name", "I", "Design", "newtonian", "Aperture", "200", "FocalLength", "1200", "Mount", "rocker-box", "Count", "1", "Weight", "", "Version", "1"}},
		{"/kit/eyepieces", []string{"Name", "E", "FocalLength", "25", "ApparentField", "52", "FieldStop", "", "Barrel", "1.25in", "Count", "1"}},
		{"/crew", []string{"Name", "V", "Email", "", "Drive", "", "Languages", ""}},
		{"/nights", []string{"Date", "2026-09-19", "Site", "1", "From", "20:00", "To", "22:30", "Guests", "80", "Audience", "families", "Block", "15", "Seeing", "", "Name", ""}},
		{"/sites/zone", []string{"Lat", "52", "Lon", "13"}},
		{"/nights/sky", []string{"Date", "2026-09-19", "Site", "1"}},
	}
	for _, f := range forms {
		for i := 0; i < len(f.base); i += 2 {
			for _, bad := range hostile {
				pairs := append([]string{}, f.base...)
				pairs[i+1] = bad
				p := v.post(f.path, pairs...)
				if p.status >= 500 || p.status == http.StatusOK && p.header.Get("Content-Type") == "" {
					t.Errorf("%s with %s=%.40q: status %d", f.path, f.base[i], bad, p.status)
				}
				if strings.Contains(p.body, "<script>alert") || strings.Contains(p.body, "<img src=x") {
					t.Errorf("%s with %s=%.40q: the value comes out as markup", f.path, f.base[i], bad)
				}
			}
		}
	}
	for _, path := range []string{"/sites", "/kit", "/crew", "/nights"} {
		p := v.get(path).wants(http.StatusOK)
		if strings.Contains(p.body, "<script>alert") || strings.Contains(p.body, "<img src=x") {
			t.Errorf("%s: a stored value comes out as markup", path)
		}
	}
}

// TestLargeBodies guards that ten megabytes are refused, not read.
func TestLargeBodies(t *testing.T) {
	v := visit(t)
	v.post("/sites", "Name", strings.Repeat("x", 10<<20)).wants(http.StatusRequestEntityTooLarge)
	v.get("/sites").wants(http.StatusOK)
}

// TestBrokenEncodings guards that a form whose encoding no browser would send is
// refused with words, not met by an internal error.
func TestBrokenEncodings(t *testing.T) {
	v := visit(t)
	fill(v)
	for _, c := range []struct{ path, kind, body string }{
		{"/sites", "application/x-www-form-urlencoded", "Name=%0X"}, {"/kit/instruments/assumed", "application/x-www-form-urlencoded", "a=1;b=2"},
		{"/crew/import", "multipart/form-data; boundary=x", "--x\r\nContent-Disposition: form-data; name=\"file\"\r\n\r\nhalf"},
		{"/nights/1/weather/file", "multipart/form-data", "no boundary"},
	} {
		req, err := http.NewRequest(http.MethodPost, v.base+c.path, strings.NewReader(c.body))
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Content-Type", c.kind)
		if p := v.do(req).wants(http.StatusUnprocessableEntity); !strings.Contains(p.testid("error"), "did not arrive whole") {
			t.Errorf("%s: %q", c.path, p.testid("error"))
		}
	}
}
