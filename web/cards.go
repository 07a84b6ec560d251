package web

import (
	"fmt"
	"net/http"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/crew"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// showCards is the printed set: one card for each instrument that shows
// something, on A4 or Letter.
func (s *server) showCards(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	sh, err := s.sheet(r.Context(), id)
	if err != nil {
		return err
	}
	paper := r.FormValue("paper")
	if paper != "letter" && paper != "a4" {
		paper = sh.Club.Paper
	}
	if paper != "letter" {
		paper = "a4"
	}
	m := views.CardsModel{Over: overline(sh), Tabs: nightTabs(id, "cards"), Paper: paper, LineUpHref: lineUpPath(id)}
	for _, p := range []string{"a4", "letter"} {
		m.Papers = append(m.Papers, views.Link{Text: map[string]string{"a4": "A4", "letter": "Letter"}[p], Href: nightPath(id) + "/cards?paper=" + p, Current: p == paper})
	}
	if len(sh.Showings) > 0 {
		fits := sh.Fits()
		for _, inst := range sh.Kit.Instruments {
			if c, ok := cardOf(sh, fits, inst); ok {
				m.Cards = append(m.Cards, c)
			}
		}
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Cards · " + sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(sh)}, views.Cards(m))
}

// cardOf is the card of one instrument; false when it shows nothing.
func cardOf(sh *night.Sheet, fits *lineup.Matrix, inst kit.Instrument) (views.Card, bool) {
	c := views.Card{
		Name: inst.Name, Line: instrumentLine(inst), Date: nightDate(sh), Zone: zoneName(sh), Place: inst.Stand, Operators: operatorWords(sh, inst),
	}
	for _, s := range sh.Showings {
		if s.InstrumentID == inst.ID {
			c.Turns = append(c.Turns, turnOf(sh, fits, inst, s))
		}
	}
	c.Care = careLines(sh, inst)
	return c, len(c.Turns) > 0
}

// nightDate prints the date of a night as two days: "13/14 March 2027".
func nightDate(sh *night.Sheet) string {
	d, n := sh.Night.Date, sh.Night.Date.AddDays(1)
	if d.Month == n.Month {
		return fmt.Sprintf("%d/%d %s %d", d.Day, n.Day, d.Month, d.Year)
	}
	return fmt.Sprintf("%d %s / %d %s %d", d.Day, d.Month.String()[:3], n.Day, n.Month.String()[:3], n.Year)
}

// operatorWords names who runs the instrument, with hand-over times, from the
// roster; before there is one, nobody.
func operatorWords(sh *night.Sheet, inst kit.Instrument) string {
	words := ""
	for _, d := range sh.Duties {
		if d.Role != crew.Operator || d.InstrumentID != inst.ID {
			continue
		}
		for _, v := range sh.Volunteers {
			if v.ID == d.VolunteerID {
				if words != "" {
					words += ", then "
				}
				words += fmt.Sprintf("%s %s", v.Name, span(sh, d.From, d.To()))
			}
		}
	}
	return words
}

func turnOf(sh *night.Sheet, fits *lineup.Matrix, inst kit.Instrument, s lineup.Showing) views.Turn {
	v := sh.Input.ViewOf(fits, s)
	t, _ := sh.Target(s.TargetID)
	turn := views.Turn{Span: span(sh, s.From, s.To()), Target: t.Name, Designation: firstDesignation(t)}
	if !v.Known {
		turn.Gear = "The eyepiece planned here is no longer in the kit."
		return turn
	}
	turn.Gear = gearWords(v)
	turn.Numbers = fmt.Sprintf("%.0f×, field %s: %s.", v.Optics.Magnification, v.Field(), fieldInMoons(v.Optics.TrueField))
	turn.Where = whereWords(v)
	turn.Last = lastMinute(sh, t, s)
	turn.Line, turn.Facts, turn.LookFor, turn.Expect, turn.Find = t.Words.Line, t.Words.Facts, t.Words.LookFor, t.Words.Expect, t.Words.Find
	if inst.GoTo {
		turn.Find = "Use the go-to, then check the finder."
	}
	turn.Image = imageWords(sh, v, s)
	turn.Height = heightWords(sh, v)
	turn.Nudge = nudgeWords(inst, v)
	if b, ok := sh.Target(s.BackupID); ok {
		turn.Backup = fmt.Sprintf("If cloud covers it: %s, %s.", b.Name, directionWord(sh.Sky.At(catalog.ObjectOf(b), s.From.Add(s.Length/2)).Az))
	}
	return turn
}

// gearWords names eyepiece and Barlow lens with focal lengths and barrel.
func gearWords(v lineup.View) string {
	e := v.Train.Eyepiece
	if e == nil {
		return "Both eyes, fixed eyepieces."
	}
	words := fmt.Sprintf("%.3g mm eyepiece (%s)", e.FocalLength, barrelWord(e.Barrel))
	if a := v.Train.Amplifier; a != nil {
		words += fmt.Sprintf(" with %s %.3g×", a.Kind, a.Factor)
	} else {
		words += ", no Barlow"
	}
	if f := v.Train.Filter; f != nil {
		words += ", " + f.Name
	}
	return words + "."
}

func barrelWord(b kit.Barrel) string {
	if b == kit.Barrel2 {
		return "2 inch"
	}
	return "1¼ inch"
}

// moonWidth is the Moon's usual width in degrees, the measure everybody knows.
const moonWidth = 0.52

// fieldInMoons says how wide the field is, in full Moons.
func fieldInMoons(deg float64) string {
	switch n := deg / moonWidth; {
	case n < 0.95:
		return fmt.Sprintf("%.0f %% of the Moon's width", n*100)
	case n < 1.5:
		return "the whole Moon just fits"
	case n < 9.5:
		return fmt.Sprintf("the Moon fits %s across", times(int(n+0.5)))
	default:
		return fmt.Sprintf("%.0f Moons side by side", n)
	}
}

func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	words := []string{3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 9: "nine"}
	if n < len(words) {
		return words[n] + " times"
	}
	return fmt.Sprintf("%d times", n)
}

// whereWords says where to point: direction, altitude in degrees and in fists,
// and whether it rises or sinks.
func whereWords(v lineup.View) string {
	a, z := v.AtStart, v.AtEnd
	move := "staying about as high"
	switch d := z.AltRefracted - a.AltRefracted; {
	case d > 1:
		move = "rising"
	case d < -1:
		move = "sinking"
	}
	words := fmt.Sprintf("%s, %.0f° high (%s)", capital(directionWord(a.Az)), a.AltRefracted, fists(a.AltRefracted))
	if end := directionWord(z.Az); end != directionWord(a.Az) || move != "staying about as high" {
		words += fmt.Sprintf(", %s to %.0f° in the %s", move, z.AltRefracted, end)
	}
	return words + "."
}

// directions are the sixteen points of the compass in words.
var directions = []string{"north", "north-north-east", "north-east", "east-north-east", "east", "east-south-east", "south-east", "south-south-east",
	"south", "south-south-west", "south-west", "west-south-west", "west", "west-north-west", "north-west", "north-north-west"}

func directionWord(az float64) string {
	return directions[int(az/22.5+0.5)%16]
}

// fists turns an altitude into fists at arm's length, ten degrees each.
func fists(alt float64) string {
	halves := int(alt/5 + 0.5)
	n := halves / 2
	words := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}
	if n >= len(words) {
		n = len(words) - 1
	}
	switch {
	case halves == 1:
		return "half a fist"
	case halves%2 == 1:
		return words[n] + " and a half fists"
	case n == 1:
		return "one fist"
	}
	return words[n] + " fists"
}

// lastMinute is the last useful minute of a target after a showing, when it
// comes within the night: the site's outline or the least altitude.
func lastMinute(sh *night.Sheet, t catalog.Target, s lineup.Showing) string {
	end, ok := sh.Input.GoneAt(t, s.From, s.To().Add(2*time.Hour))
	if !ok {
		return ""
	}
	return "Gone by " + siteClock(sh, end) + "."
}

// imageWords says how the picture is turned.
func imageWords(sh *night.Sheet, v lineup.View, s lineup.Showing) string {
	mid := v.AtStart
	q := sky.ParallacticAngle(sh.Site.Place.Lat, mid.Dec, mid.HourAngle)
	return v.Train.Orientation(q).Sentence
}

// heightWords says how high the eyepiece stands and who needs what.
func heightWords(sh *night.Sheet, v lineup.View) string {
	low, top := fmt.Sprintf("%.2f", v.HeightLow), fmt.Sprintf("%.2f", v.HeightTop)
	at := "Eyepiece at " + top + " m: "
	if v.HeightTop-v.HeightLow > 0.05 {
		at = "Eyepiece at " + low + " to " + top + " m: "
	}
	words := at + sh.Input.ReachWords(v.HeightTop)
	if sh.Input.Seated(v.HeightLow) && sh.Input.Seated(v.HeightTop) {
		return words + " Wheelchair: yes."
	}
	return words + " Wheelchair: no."
}

func nudgeWords(inst kit.Instrument, v lineup.View) string {
	if inst.Tracking {
		return "The mount follows; check now and then."
	}
	n := max(v.Nudge, 1)
	looks := "look"
	if n != 1 {
		looks = "looks"
	}
	return fmt.Sprintf("%s %s, then nudge: follow it from east to west.", capital(countWord(n)), looks)
}

// careLines are what the operator must mind all night.
func careLines(sh *night.Sheet, inst kit.Instrument) []string {
	var out []string
	if set := sh.Twilights.Sunset; set.State == sky.Happens && sh.Night.PublicFrom.Before(set.Time) {
		line := fmt.Sprintf("The Sun is up until %s: caps on, finder capped, never near the Sun without a certified filter over the whole front.", siteClock(sh, set.Time))
		out = append(out, line)
	}
	if inst.NeedsCollimation {
		out = append(out, "Check the alignment of the optics before the gate opens.")
	}
	if inst.Fan {
		out = append(out, "Fan on from set-up until the first planet.")
	}
	out = append(out, "Never leave it alone. Hands on the steps, not on the tube.")
	return out
}
