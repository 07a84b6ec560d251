package web

import (
	"embed"
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/internal/optics"
)

//go:embed cardwords
var cardWordFiles embed.FS

// cardWords are the words of the printed papers in one language: a file of
// cardwords, with the catalogue's words on targets beside it.
type cardWords struct {
	Code    string
	Name    string
	Decimal string
	Lists   map[string][]string
	Texts   map[string]string
	Added   bool `json:"-"` // a language of the club's own
	targets *catalog.Catalog
	file    map[string]string          // texts by key of a language of the club's own
	own     map[string]night.CardWords // the club's words, by target
}

// cardLanguages reads every language that the catalogue speaks, once at
// start, so that a missing file stops the program and not a night.
func cardLanguages() (map[string]*cardWords, error) {
	out := map[string]*cardWords{}
	for _, code := range catalog.Languages() {
		b, err := cardWordFiles.ReadFile("cardwords/" + code + ".json")
		if err != nil {
			return nil, fmt.Errorf("words of the cards: %w", err)
		}
		w := &cardWords{}
		if err := json.Unmarshal(b, w); err != nil {
			return nil, fmt.Errorf("words of the cards in %q: %w", code, err)
		}
		if w.targets, err = catalog.In(code); err != nil {
			return nil, fmt.Errorf("words of the cards: %w", err)
		}
		out[code] = w
	}
	return out, nil
}

// say fills a text of the language.
func (w *cardWords) say(key string, args ...any) string {
	t := w.Texts[key]
	if len(args) == 0 {
		return t
	}
	return fmt.Sprintf(t, args...)
}

// list returns an entry of a list, the last for an index past its end.
func (w *cardWords) list(name string, i int) string {
	l := w.Lists[name]
	if len(l) == 0 {
		return ""
	}
	return l[min(max(i, 0), len(l)-1)]
}

// number prints with the language's decimal sign.
func (w *cardWords) number(x float64, decimals int) string {
	return strings.Replace(number(x, decimals), ".", w.Decimal, 1)
}

// direction names an azimuth as one of sixteen.
func (w *cardWords) direction(az float64) string {
	return w.list("directions", int(math.Round(az/22.5))%16)
}

// fists turns an altitude into fists at arm's length, ten degrees each.
func (w *cardWords) fists(alt float64) string { return w.list("fists", int(math.Round(alt/5))) }

// field prints a true field: arcminutes, from two degrees on in degrees.
func (w *cardWords) field(deg float64) string {
	if deg >= 2 {
		return w.number(deg, 1) + "°"
	}
	return w.number(deg*60, 0) + "′"
}

// moons says how wide a field is in full Moons.
func (w *cardWords) moons(deg float64) string {
	const moonWidth = 0.52 // degrees, the usual
	switch n := deg / moonWidth; {
	case n < 0.95:
		return w.say("moons.part", int(math.Round(n*100)))
	case n < 1.6:
		return w.say("moons.one")
	case n < 9.5:
		return w.say("moons.times", w.list("times", int(n+0.4)))
	default:
		return w.say("moons.many", int(n))
	}
}

// count writes a small number as a word.
func (w *cardWords) count(n int) string {
	if n < len(w.Lists["counts"]) {
		return w.Lists["counts"][n]
	}
	return fmt.Sprint(n)
}

// instrument describes an instrument in a few words.
func (w *cardWords) instrument(i kit.Instrument) string {
	mount := w.say("mount." + string(i.Mount))
	if i.Design == kit.Binoculars {
		return w.say("binoculars", w.number(i.Power, 1), w.number(i.Aperture, 0), mount)
	}
	ratio := 0.0
	if i.Aperture > 0 {
		ratio = i.FocalLength / i.Aperture
	}
	return w.say("instrument", w.number(i.Aperture, 0), w.number(ratio, 1), w.say("design."+string(i.Design)), mount)
}

// image says how the picture of a train is turned.
func (w *cardWords) image(t *optics.Train) string {
	o := t.Orientation(0)
	switch {
	case o.Mirrored && o.Turn == 180:
		return w.say("image.turnedMirrored")
	case o.Mirrored:
		return w.say("image.mirrored")
	case o.Path == optics.NewtonianSide:
		return w.say("image.newtonian")
	case o.Turn == 180:
		return w.say("image.turned")
	}
	return w.say("image.upright")
}

// bodies are the names that drawings use for moving things.
func (w *cardWords) bodies() map[string]string {
	out := map[string]string{}
	for english, id := range map[string]string{"Moon": "moon", "Venus": "venus", "Mars": "mars", "Jupiter": "jupiter", "Saturn": "saturn"} {
		if t, ok := w.targets.ByID(id); ok {
			out[english] = w.shipped(t).Name
		}
	}
	return out
}
