package main

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"

	tzfrellite "github.com/ringsaturn/tzf-rel-lite"
	pb "github.com/ringsaturn/tzf/gen/go/tzf/v1"
	"google.golang.org/protobuf/proto"

	"duskboard/internal/catalog"
)

// suggestions is how many near names an error tells.
const suggestions = 3

// findTargets looks up what the visitor calls a target: what is called exactly
// so, or the only one whose name begins so ("andromeda"), or the only one that
// the catalogue's search finds.
func findTargets(names []string) ([]catalog.Target, error) {
	c := catalog.Default()
	var targets []catalog.Target
	for _, name := range names {
		t, err := findTarget(c, name)
		if err != nil {
			return nil, err
		}
		targets = append(targets, t)
	}
	return targets, nil
}

func findTarget(c *catalog.Catalog, name string) (catalog.Target, error) {
	if t, ok := c.ByID(strings.ToLower(strings.TrimSpace(name))); ok {
		return t, nil
	}
	found := c.Search(name)
	want := letters(name)
	var begin []catalog.Target
	for _, t := range found {
		if called(t, func(s string) bool { return s == want }) {
			return t, nil
		}
		if want != "" && strings.HasPrefix(letters(t.Name), want) && !unicode.IsDigit(rune(want[len(want)-1])) {
			begin = append(begin, t)
		}
	}
	switch {
	case len(begin) == 1:
		return begin[0], nil
	case len(found) == 1:
		return found[0], nil
	}
	var near []string
	for _, t := range found[:min(len(found), suggestions)] {
		near = append(near, t.Name)
	}
	if len(near) == 0 {
		near = c.Nearest(name, suggestions)
	}
	return catalog.Target{}, fmt.Errorf("there is no target %q%s", name, perhaps(near))
}

// called says whether one of the target's names fits.
func called(t catalog.Target, fits func(letters string) bool) bool {
	return slices.ContainsFunc(append([]string{t.ID, t.Name}, t.Designations...), func(s string) bool {
		return fits(letters(s))
	})
}

// letters is a name without case, spaces and punctuation.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

func perhaps(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "; perhaps " + strings.Join(names, ", ")
}

// loadZone is time.LoadLocation for the zone of a place: "" and "Local", which
// Go takes, are none.
func loadZone(name string) (*time.Location, error) {
	if name != "" && name != "Local" {
		if zone, err := time.LoadLocation(name); err == nil {
			return zone, nil
		}
	}
	return nil, fmt.Errorf("there is no time zone %q%s", name, perhaps(nearZones(name)))
}

// nearZones returns the zones that are spelled almost like the name: whole, or
// in the part behind the last slash.
func nearZones(name string) []string {
	want := letters(name)
	type near struct {
		name     string
		distance int
	}
	var found []near
	for _, zone := range zoneNames() {
		d := edits(want, letters(zone))
		if _, city, ok := strings.Cut(zone, "/"); ok && len(want) > 3 {
			city = city[strings.LastIndexByte(city, '/')+1:]
			d = min(d, edits(want, letters(city)))
		}
		if d <= max(1, len(want)/3) {
			found = append(found, near{zone, d})
		}
	}
	slices.SortStableFunc(found, func(a, b near) int { return a.distance - b.distance })
	var names []string
	for _, f := range found[:min(len(found), suggestions)] {
		names = append(names, f.name)
	}
	return names
}

// zoneNames lists the zones that have a place on the map. Go's own zone data
// cannot be listed.
func zoneNames() []string {
	var tiles pb.PreindexTimezones
	if err := proto.Unmarshal(tzfrellite.PreindexData, &tiles); err != nil {
		return nil // only the suggestions are missing
	}
	seen := map[string]bool{}
	var names []string
	for _, k := range tiles.Keys {
		if !seen[k.Name] {
			seen[k.Name] = true
			names = append(names, k.Name)
		}
	}
	slices.Sort(names)
	return names
}

// edits is the number of letters to insert, drop or change to make b of a.
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, diagonal+1)
		}
	}
	return row[len(b)]
}
