package catalog

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"duskboard/internal/sky"
)

// Catalog is a set of targets in one language. It does not change once made and
// is safe for use by many at once.
type Catalog struct {
	targets  []Target
	byID     map[string]int
	plain    []string            // the names before translation, to be found as well
	keys     func() []searchKeys // made at the first search
	language *Language
}

// Default returns the embedded catalogue in English. It is read once.
func Default() *Catalog {
	c, err := In("en")
	if err != nil {
		panic(err) // the embedded files are read by a test
	}
	return c
}

// tables are the numbers, which are the same in every language.
var tables = sync.OnceValues(load)

// In returns the embedded catalogue in a language of Languages. Each is read
// once.
func In(code string) (*Catalog, error) {
	read, found := embeddedCatalogs[code]
	if !found {
		return nil, fmt.Errorf("no words in language %q; there are: %s", code, strings.Join(Languages(), ", "))
	}
	return read()
}

var embeddedCatalogs = func() map[string]func() (*Catalog, error) {
	all := make(map[string]func() (*Catalog, error))
	for _, code := range Languages() {
		all[code] = sync.OnceValues(func() (*Catalog, error) { return readEmbedded(code) })
	}
	return all
}()

func readEmbedded(code string) (*Catalog, error) {
	l, err := languageOf(code)
	if err != nil {
		return nil, err
	}
	targets, err := tables()
	if err != nil {
		return nil, err
	}
	return newCatalog(targets, namesOf(targets), l), nil
}

func namesOf(targets []Target) []string {
	names := make([]string, len(targets))
	for i, t := range targets {
		names[i] = t.Name
	}
	return names
}

// newCatalog copies the targets and gives them the words of a language.
func newCatalog(targets []Target, plain []string, l *Language) *Catalog {
	c := &Catalog{
		targets:  make([]Target, len(targets)),
		byID:     make(map[string]int, len(targets)),
		plain:    plain,
		language: l,
	}
	for i, t := range targets {
		l.speak(&t)
		c.targets[i] = t
		c.byID[t.ID] = i
	}
	c.keys = sync.OnceValue(func() []searchKeys {
		keys := make([]searchKeys, len(c.targets))
		for i, t := range c.targets {
			keys[i] = keysOf(t, plain[i], l)
		}
		return keys
	})
	return c
}

// All returns every target, the moving ones first. Shared: do not change.
func (c *Catalog) All() []Target { return c.targets }

// ByID finds a target by its id.
func (c *Catalog) ByID(id string) (Target, bool) {
	i, found := c.byID[id]
	if !found {
		return Target{}, false
	}
	return c.targets[i], true
}

// Lookup finds the one target that a name means: by id, name or number, else
// the only one that Search finds. For command lines; see Nearest for what to say
// when there is none.
func (c *Catalog) Lookup(name string) (Target, bool) {
	if t, found := c.ByID(name); found {
		return t, true
	}
	found := c.Search(name)
	if len(found) == 0 {
		return Target{}, false
	}
	first := found[0]
	exact := slices.Contains(c.keys()[c.byID[first.ID]].exact, compact(name))
	return first, exact || len(found) == 1
}

// Speaking returns the same targets in another language, such as one that a
// club has added. Words that a club has written for its own targets stay.
func (c *Catalog) Speaking(l *Language) (*Catalog, error) {
	targets, err := tables()
	if err != nil {
		return nil, err
	}
	var own []Target
	for _, t := range c.targets {
		if t.Own {
			own = append(own, t)
		}
	}
	return newCatalog(targets, namesOf(targets), l).With(own), nil
}

// Language is the code of the language that the words are in.
func (c *Catalog) Language() string { return c.language.Code }

// With returns a catalogue that also has the club's own targets, whose empty
// words are filled from the templates. A target with an id that is there
// already replaces it, so a club can put its own words over ours.
func (c *Catalog) With(own []Target) *Catalog {
	all := slices.Clone(c.targets)
	plain := slices.Clone(c.plain)
	at := maps.Clone(c.byID)
	for _, t := range own {
		i, found := at[t.ID]
		if !found {
			i = len(all)
			at[t.ID] = i
			all, plain = append(all, t), append(plain, t.Name)
		}
		all[i], plain[i] = t, t.Name
	}
	return newCatalog(all, plain, c.language)
}

// ObjectOf is what package sky follows for a target.
func ObjectOf(t Target) sky.Object {
	switch {
	case t.Moves:
		return t.Body
	case t.Orbit != nil:
		return *t.Orbit
	}
	return t.Star
}
