package web_test

import (
	"net/http"
	"strings"
	"testing"
)

// halley is a line in the published one-line format; its numbers are those of
// the comet's elements rounded (from memory), enough to read and to move.
const halley = "0001P         2061 07 28.7420  0.593072  0.966278  112.2128   59.1005  161.9594  20260101   5.5  4.0  1P/Halley"

// sample is an element set of the tests of Vallado and others, Revisiting
// Spacetrack Report No. 3 (AIAA 2006-6753).
const sample = "TEST\n1 06251U 62025E   06176.82412014  .00008885  00000-0  12808-3 0  3985\n2 06251  58.0579  54.0425 0030035 139.1568 221.1854 15.56387291  6774"

// TestOwnTargets guards that what a club adds is there, and that bad input is
// refused beside its field with what was typed kept.
func TestOwnTargets(t *testing.T) {
	v := visit(t)
	v.save("/targets", "name", "Our cluster", "place", "05 35 17 -05 23 28", "kind", "open cluster", "magnitude", "6,5", "size", "20")
	v.save("/targets", "elements", halley)
	v.save("/targets", "table", "name;ra;dec;mag\nOne;10,5;41,3;5,5\nTwo;00 42 44;-00 30 00;7")
	p := v.get("/targets")
	for _, want := range []string{"Our cluster", "1P/Halley", "comet", "One", "Two", "-0.500°"} {
		if !strings.Contains(p.body, want) {
			t.Errorf("the page of targets does not show %q", want)
		}
	}
	for _, c := range []struct{ field, value, says string }{
		{"place", "25 99 00 +91", "place"},
		{"elements", "0001P  nonsense", "line 1"},
		{"table", "name,ra,dec\nX,400,0", "line 2"},
		{"magnitude", "bright", "number"},
	} {
		pairs := []string{"name", "Kept name", c.field, c.value}
		if c.field != "place" {
			pairs = append(pairs, "place", "10 20")
		}
		p := v.post("/targets", pairs...)
		if p.status != http.StatusUnprocessableEntity {
			t.Errorf("%s %q: status %d, want 422", c.field, c.value, p.status)
		}
		if !strings.Contains(p.body, c.value) {
			t.Errorf("%s %q is not kept on the page", c.field, c.value)
		}
	}
}

// TestSatellites guards pasting, a bad checksum said, and forgetting.
func TestSatellites(t *testing.T) {
	v := visit(t)
	bad := strings.Replace(sample, "3985", "3984", 1)
	if p := v.post("/targets/satellites", "satellite", bad); p.status != http.StatusUnprocessableEntity || !strings.Contains(p.body, "checksum") {
		t.Errorf("a bad checksum: status %d, want 422 and the word checksum", p.status)
	}
	v.save("/targets/satellites", "satellite", sample)
	if p := v.get("/targets"); !strings.Contains(p.body, "TEST") {
		t.Error("the satellite is not on the page")
	}
	v.save("/targets/satellites/1/remove")
	if p := v.post("/targets/satellites/1/remove"); p.status != http.StatusNotFound {
		t.Errorf("forgetting twice: status %d, want 404", p.status)
	}
}
