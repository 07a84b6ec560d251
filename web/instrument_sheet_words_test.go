package web

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"duskboard/internal/kit"
	"duskboard/internal/night"
)

// anyKit is a kit without a name of its own: every design, small and large,
// driven and not, so that each sentence of the sheets is said of one of them.
func anyKit() kit.Kit {
	var k kit.Kit
	var assumed []string
	for _, f := range kit.InstrumentFields {
		assumed = append(assumed, f.Field)
	}
	add := func(i kit.Instrument) {
		i.ID, i.Count, i.Name = int64(len(k.Instruments)+1), 1, fmt.Sprint(len(k.Instruments)+1)
		k.Instruments = append(k.Instruments, i)
	}
	for _, d := range kit.Designs {
		for _, size := range []float64{70, 150, 355} {
			add(kit.Instrument{Design: d, Aperture: size, Base: kit.Base{Assumed: assumed}})
			add(kit.Instrument{Design: d, Aperture: size, Mount: kit.AltAzGoTo, Tracking: true, GoTo: true, SetupMinutes: 20})
			add(kit.Instrument{Design: d, Aperture: size, Mount: kit.GermanEquatorial, Tracking: true, ClosedTube: true, NeedsCollimation: true})
			add(kit.Instrument{Design: d, Aperture: size, FocalLength: size * 12, Mount: kit.AltAzHand, Fan: true, SolarFilter: kit.SolarFilter{Fitted: true}})
			add(kit.Instrument{Design: d, Aperture: size, FocalLength: size * 4.2, Mount: kit.ForkWedge})
		}
	}
	for _, m := range kit.Mounts {
		add(kit.Instrument{Design: kit.Newtonian, Aperture: 200, Mount: m, Weight: 30})
	}
	for _, size := range []float64{90, 120} { // a little colour
		add(kit.Instrument{Design: kit.Achromat, Aperture: size, FocalLength: size * size / 10, Mount: kit.AltAzHand})
	}
	for i, f := range []float64{5, 12, 25, 40} {
		k.Eyepieces = append(k.Eyepieces, kit.Eyepiece{Base: kit.Base{ID: int64(i + 1), Count: 1}, FocalLength: f, ApparentField: 60, Barrel: kit.Barrel125})
	}
	for i, a := range []kit.Amplifier{{Kind: kit.Barlow, Factor: 2}, {Kind: kit.Reducer, Factor: 0.63}} {
		a.Base = kit.Base{ID: int64(i + 1), Count: 1}
		k.Amplifiers = append(k.Amplifiers, a)
	}
	return k.Fill()
}

// sheetsIn are all words of the sheets of a kit, and of the comparison.
func sheetsIn(t testing.TB, w *cardWords, k kit.Kit) []string {
	t.Helper()
	c := sheetWriter{w}
	table := c.compareTable()
	var all []any
	for _, i := range k.Instruments {
		m := c.sheet(k, i)
		m.Lang = ""
		drawn := regexp.MustCompile(`<(?:title|desc|text)[^>]*>([^<]*)<`).FindAllStringSubmatch(m.Path, -1)
		if len(drawn) < 4 {
			t.Fatalf("%d words on the drawing: %s", len(drawn), m.Path)
		}
		m.Path = ""
		all = append(all, m)
		for _, d := range drawn {
			all = append(all, d[1])
		}
		for _, cell := range c.compareRow(k, i) {
			table.Rows = append(table.Rows, nil)
			all = append(all, cell.Text, cell.Note)
		}
	}
	b, err := json.Marshal(append(all, table, w.say("compare.kit")))
	if err != nil {
		t.Fatal(err)
	}
	var doc any
	if err := json.Unmarshal(b, &doc); err != nil {
		t.Fatal(err)
	}
	var out []string
	var walk func(any)
	walk = func(x any) {
		switch x := x.(type) {
		case string:
			out = append(out, x)
		case []any:
			for _, y := range x {
				walk(y)
			}
		case map[string]any:
			for _, y := range x {
				walk(y)
			}
		}
	}
	walk(doc)
	return out
}

var latinWord = regexp.MustCompile(`[A-Za-z]+`)

// TestSheetsSayNothingOfTheirOwn: in a language whose every letter is Ж the
// sheets hold no Latin word but units and f-numbers, so that nothing stands in
// them that a language file cannot reach.
func TestSheetsSayNothingOfTheirOwn(t *testing.T) {
	english := englishWords(t)
	strange := map[string]string{}
	for _, k := range english.languageKeys() {
		text := ""
		for len(k.English) > len(text) {
			rest := k.English[len(text):]
			if at := textVerb.FindStringIndex(rest); at != nil && at[0] == 0 {
				text += rest[:at[1]]
			} else {
				text += "#"
			}
		}
		strange[k.Key] = strings.ReplaceAll(text, "#", "Ж")
	}
	delete(strange, "decimal")
	w := english.spoken(night.CardLanguage{Code: "xx", Name: "X", Texts: strange})
	units := []string{"mm", "m", "kg", "f"}
	for _, said := range sheetsIn(t, w, anyKit()) {
		for _, word := range latinWord.FindAllString(said, -1) {
			if !slices.Contains(units, word) {
				t.Errorf("%q of %q is in no language file", word, said)
				return
			}
		}
		if strings.Contains(said, "%!") {
			t.Errorf("printed as %q", said)
		}
	}
}

// TestSheetsInTheSecondLanguage: every sentence of the sheets is said of some
// instrument, and none of them is the English one.
func TestSheetsInTheSecondLanguage(t *testing.T) {
	all, err := cardLanguages()
	if err != nil {
		t.Fatal(err)
	}
	english, german := all["en"], all["de"]
	k := anyKit()
	said := map[string]string{"en": strings.Join(sheetsIn(t, english, k), "\n"), "de": strings.Join(sheetsIn(t, german, k), "\n")}
	keys, same := 0, 0
	for _, key := range sortedKeys(english.Texts) {
		group, _, _ := strings.Cut(key, ".")
		if !slices.Contains([]string{"sheet", "compare", "assumed"}, group) {
			continue
		}
		keys++
		// The longest piece between two numbers stands for the sentence.
		piece := func(w *cardWords) string {
			long := ""
			for _, p := range textVerb.Split(w.Texts[key], -1) {
				if p = strings.TrimSpace(p); len(p) > len(long) {
					long = p
				}
			}
			return long
		}
		en, de := piece(english), piece(german)
		if !strings.Contains(said["en"], en) {
			t.Errorf("%s: no sheet says %q", key, en)
		}
		if !strings.Contains(said["de"], de) {
			t.Errorf("%s: no German sheet says %q", key, de)
		}
		if en == de {
			same++
		} else if len(en) > 12 && strings.Contains(said["de"], en) {
			t.Errorf("%s: a German sheet says %q", key, en)
		}
	}
	if keys < 100 || same > 4 { // "Detail" and the signs of units are the same
		t.Errorf("%d texts, %d the same in both languages", keys, same)
	}
	if strings.Contains(said["de"], "1317") || !strings.Contains(said["de"], "0,3") {
		t.Error("German numbers have no comma")
	}
}

// TestAssumedWordsAreThoseOfTheForm: an assumed value has one name, on the
// sheet and in the form.
func TestAssumedWordsAreThoseOfTheForm(t *testing.T) {
	w := englishWords(t)
	for _, f := range kit.InstrumentFields {
		if got := w.say("assumed." + f.Field); got != f.Label {
			t.Errorf("%s is %q on the sheet, %q in the form", f.Field, got, f.Label)
		}
	}
}
