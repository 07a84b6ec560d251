package catalog_test

import (
	"slices"
	"strings"
	"testing"

	"duskboard/internal/catalog"
)

func TestSearch(t *testing.T) {
	c := catalog.Default()
	for _, s := range []struct {
		query string
		first string // id of the first found; empty: nothing is found
	}{
		{"m 31", "m31"},
		{"M31", "m31"},
		{"m031", "m31"},
		{"Messier 31", "m31"},
		{" messier  031 ", "m31"},
		{"NGC7000", "ngc7000"},
		{"ngc 7000", "ngc7000"},
		{"c 20", "ngc7000"},
		{"Caldwell 20", "ngc7000"},
		{"north america", "ngc7000"},
		{"NORTH AMERICA NEBULA", "ngc7000"},
		{"northam", "ngc7000"},
		{"ngc 884", "ngc869"},
		{"double cluster", "ngc869"},
		{"double double", "double-double"},
		{"47 tuc", "ngc104"},
		{"whirlpool", "m51"},
		{"beta cyg", "albireo"},
		{"β Cyg", "albireo"},
		{"β1 Cygni", "albireo"},
		{"Beta Cygni", "albireo"},
		{"hip 95947", "albireo"},
		{"alpha cen", "alpha-centauri"},
		{"µ Cep", "garnet-star"},
		{"jobs coffin", "jobs-coffin"},
		{"Plough", "big-dipper"},
		{"jupiter", "jupiter"},
		{"globular cluster in hercules", "m13"},
		{"globular clusters her", "m13"},
		{"planetary lyra", "m57"},
		{"galaxies", "lmc"},
		{"galaxy andromeda", "m31"},
		{"nebulae ori", "m42"},
		{"nebula orion", "m42"},
		{"carbon", "r-lep"},
		{"", ""},
		{" - ", ""},
		{"m 111", ""},
		{"zzz", ""},
	} {
		found := c.Search(s.query)
		switch {
		case s.first == "" && len(found) > 0:
			t.Errorf("%q: finds %s, want nothing", s.query, found[0].ID)
		case s.first != "" && len(found) == 0:
			t.Errorf("%q: finds nothing, want %s", s.query, s.first)
		case s.first != "" && found[0].ID != s.first:
			t.Errorf("%q: finds %s first, want %s", s.query, found[0].ID, s.first)
		}
	}
}

// A number is whole: "m 3" is not M 31, nor is "c 14" some cluster with 14;
// unless nothing has that number, then it may be the beginning of one.
func TestSearchNumbersAreWhole(t *testing.T) {
	c := catalog.Default()
	for query, want := range map[string][]string{
		"m 3": {"m3"},
		"c14": {"ngc869"},
		"M 1": {"m1"},
	} {
		var got []string
		for _, target := range c.Search(query) {
			got = append(got, target.ID)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", query, got, want)
		}
	}

	halfTyped := c.Search("ngc 70")
	if !finds(c, "ngc 70", "ngc7000") {
		t.Errorf("%q does not lead to NGC 7000", "ngc 70")
	}
	for _, target := range halfTyped {
		if !slices.ContainsFunc(target.Designations, func(d string) bool { return strings.HasPrefix(d, "NGC 70") }) {
			t.Errorf("%q: finds %s", "ngc 70", target.ID)
		}
	}
}

// Searching by kind and constellation gives all of them and nothing else.
func TestSearchByKindAndConstellation(t *testing.T) {
	c := catalog.Default()
	for query, fits := range map[string]func(catalog.Target) bool{
		"open cluster aur":       func(t catalog.Target) bool { return t.Kind == catalog.KindOpen && t.Constellation == "Aur" },
		"double stars in cygnus": func(t catalog.Target) bool { return t.Kind == catalog.KindDouble && t.Constellation == "Cyg" },
		"carbon star":            func(t catalog.Target) bool { return t.Kind == catalog.KindCarbon },
	} {
		want := map[string]bool{}
		for _, target := range c.All() {
			if fits(target) {
				want[target.ID] = true
			}
		}
		if len(want) == 0 {
			t.Fatalf("%q: no target fits", query)
		}
		for _, target := range c.Search(query) {
			if !want[target.ID] {
				t.Errorf("%q: finds %s too", query, target.ID)
			}
			delete(want, target.ID)
		}
		for id := range want {
			t.Errorf("%q: does not find %s", query, id)
		}
	}
}

func TestNearest(t *testing.T) {
	c := catalog.Default()
	for _, s := range []struct{ typed, want string }{
		{"andromda", "Andromeda Galaxy"},
		{"jupitr", "Jupiter"},
		{"Saturm", "Saturn"},
		{"albiero", "Albireo"},
		{"betelguese", "Betelgeuse"},
		{"wirlpool galaxy", "Whirlpool Galaxy"},
		{"pleadies", "Pleiades"},
		{"M 111", "M 11"},
	} {
		got := c.Nearest(s.typed, 4)
		if s.want == "M 11" {
			s.want = "Wild Duck Cluster" // what M 11 is called
		}
		if !slices.Contains(got, s.want) {
			t.Errorf("%q: %v, want %s among them", s.typed, got, s.want)
		}
		if len(got) > 4 {
			t.Errorf("%q: %d names, at most 4", s.typed, len(got))
		}
	}
	for _, typed := range []string{"", "qqqqqqqqqqq", "?"} {
		if got := c.Nearest(typed, 4); len(got) > 0 {
			t.Errorf("%q: %v, want nothing", typed, got)
		}
	}
	if got := c.Nearest("saturm", 0); len(got) > 0 {
		t.Errorf("no names wanted: %v", got)
	}
}
