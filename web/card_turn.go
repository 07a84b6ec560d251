package web

import (
	"fmt"
	"math"
	"strings"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// cardWriter writes the papers of one night in one language.
type cardWriter struct {
	sh      *night.Sheet
	w       *cardWords
	fits    *lineup.Matrix
	finders map[int64]kit.Finder // to draw, by instrument id
	layout  *ground.Layout       // of the field; nil computes it when asked for
}

// words is how much a card tells guests; what the operator must do stands on
// every card.
type words int

const (
	everyWord words = iota
	oneFact         // one fact instead of three
	onlyTask        // the opening line, what to look for and what there is to see
)

// turn tells one showing: what to do on the left, what to say on the right.
func (c cardWriter) turn(inst kit.Instrument, s lineup.Showing, level words) views.Turn {
	v := c.sh.Input.ViewOf(c.fits, s)
	listed, _ := c.sh.Target(s.TargetID)
	t := c.w.target(listed)
	mid := s.From.Add(s.Length / 2)
	turn := views.Turn{Span: c.w.say("span", c.clock(s.From), c.clock(s.To())), Target: t.Name, Designation: firstDesignation(t)}
	if !v.Known {
		turn.Do = []views.Para{{Class: "gear", Text: c.w.say("gear.missing")}}
		return turn
	}
	turn.Short = c.gear(v) + "; " + c.w.direction(v.AtStart.Az) + ", " + fmt.Sprintf("%d°", degrees(v.AtStart.AltRefracted))
	do := &turn.Do
	add(do, "gear", "", c.gear(v)+".")
	add(do, "strong", "", c.where(v))
	find, last := t.Words.Find, ""
	if inst.GoTo {
		find = c.w.say("goto")
	}
	if end, ok := c.sh.Input.GoneAt(listed, s.From, s.To().Add(2*time.Hour)); ok {
		last = c.w.say("gone", c.clock(end))
	}
	add(do, "", last, find)
	handle := c.w.say("numbers", c.w.number(v.Optics.Magnification, 0), c.w.field(v.Optics.TrueField), c.w.moons(v.Optics.TrueField)) + " " + c.nudge(inst, v) + " " + c.height(v) + " " + c.image(v)
	if b, ok := c.sh.Target(s.BackupID); ok {
		handle += " " + c.w.say("backup", c.w.target(b).Name, c.w.direction(c.sh.Sky.At(catalog.ObjectOf(b), mid).Az))
	}
	add(do, "", "", handle)

	tell := &turn.Say
	if t.Words.Line != "" {
		add(tell, "say", "", c.w.quoted(t.Words.Line))
	}
	if a := c.sh.Night.Audience; level < onlyTask && (a == night.Families || a == night.School) {
		add(tell, "", c.w.say("child"), c.w.child(t))
	}
	for i, f := range c.facts(t, mid) {
		if level == everyWord || level == oneFact && i == 0 {
			add(tell, "fact", "", f)
		}
	}
	add(tell, "", c.w.say("lookFor"), t.Words.LookFor)
	add(tell, "", c.w.say("expect"), t.Words.Expect)
	return turn
}

// add appends a paragraph that says something.
func add(to *[]views.Para, class, lead, text string) {
	if text = strings.TrimSpace(text); text != "" {
		*to = append(*to, views.Para{Class: class, Lead: lead, Text: text})
	}
}

func (c cardWriter) clock(t time.Time) string { return siteClock(c.sh, t) }

// mostFacts is how many facts a card has room for.
const mostFacts = 3

// facts are the catalogue's; for what moves, tonight's light time comes first.
// Light crosses an astronomical unit in 499.0 s (IAU 2012: 149,597,870.7 km).
func (c cardWriter) facts(t catalog.Target, at time.Time) []string {
	facts := t.Words.Facts
	switch {
	case t.Moves && t.Body == sky.Moon:
		km := c.sh.Sky.Moon(at).Distance
		facts = append([]string{c.w.say("light.moon", c.w.number(km/299792.458, 1), c.thousands(km))}, facts...)
	case t.Moves && t.Body != sky.Sun:
		minutes := c.sh.Sky.Planet(t.Body, at).Distance * 499.0048 / 60
		facts = append([]string{c.w.say("light.minutes", c.w.number(minutes, 0))}, facts...)
	}
	return facts[:min(len(facts), mostFacts)]
}

// thousands prints kilometres to the nearest thousand: "384,000".
func (c cardWriter) thousands(km float64) string {
	n := int(math.Round(km / 1000))
	sep := ","
	if c.w.Decimal == "," {
		sep = "."
	}
	return fmt.Sprintf("%d%s000", n, sep)
}

// gear names eyepiece and Barlow lens with focal lengths and barrel.
func (c cardWriter) gear(v lineup.View) string {
	e := v.Train.Eyepiece
	if e == nil {
		return c.w.say("gear.fixed")
	}
	words := c.w.say("gear.eyepiece", c.w.number(e.FocalLength, 1), c.w.say("barrel."+string(e.Barrel)))
	if a := v.Train.Amplifier; a != nil {
		words += c.w.say("gear.with", c.w.say("amplifier."+string(a.Kind)), c.w.number(a.Factor, 2))
	} else {
		words += c.w.say("gear.none")
	}
	if f := v.Train.Filter; f != nil {
		words += c.w.say("gear.filter", f.Name)
	}
	return words
}

// where says where to point: direction, altitude in degrees and in fists, at
// the start and at the end.
func (c cardWriter) where(v lineup.View) string {
	a, z := v.AtStart, v.AtEnd
	args := []any{c.w.direction(a.Az), degrees(a.AltRefracted), c.w.fists(a.AltRefracted), degrees(z.AltRefracted), c.w.fists(z.AltRefracted), c.w.direction(z.Az)}
	switch d := z.AltRefracted - a.AltRefracted; {
	case d > 1 && args[0] == args[5]:
		return c.w.say("where.risingSame", args[:5]...)
	case d < -1 && args[0] == args[5]:
		return c.w.say("where.sinkingSame", args[:5]...)
	case d > 1:
		return c.w.say("where.rising", args...)
	case d < -1:
		return c.w.say("where.sinking", args...)
	case args[0] != args[5]:
		return c.w.say("where.level", args[0], args[1], args[2], args[5])
	}
	return c.w.say("where", args[:3]...)
}

func degrees(x float64) int { return int(math.Round(x)) }

// image says how the picture is turned.
func (c cardWriter) image(v lineup.View) string { return c.w.image(&v.Train) }

// height says how high the eyepiece stands, who needs what and whether a
// guest in a wheelchair reaches it.
func (c cardWriter) height(v lineup.View) string {
	words := c.w.say("height", c.w.number(v.HeightTop, 2))
	if v.HeightTop-v.HeightLow > 0.05 {
		words = c.w.say("height.range", c.w.number(v.HeightLow, 2), c.w.number(v.HeightTop, 2))
	}
	crowd := c.sh.Input.Crowd
	adult := optics.ReachFor(v.HeightTop, crowd.EyeHeight).Stand
	words += " "
	if child := optics.ReachFor(v.HeightTop, crowd.ChildHeight).Stand; crowd.ChildHeight > 0 && child != adult {
		words += c.w.say("reach.two", c.w.say("reach."+string(adult)), c.w.say("reach."+string(child)))
	} else {
		words += c.w.say("reach.all", c.w.say("reach."+string(adult)))
	}
	h := optics.HeightsOver(v.Train.Instrument, v.AtStart.AltRefracted, v.AtEnd.AltRefracted)
	verdict, _ := optics.Wheelchair(h)
	switch {
	case verdict == optics.OK:
		return words + " " + c.w.say("wheelchair.yes")
	case verdict == optics.Note && h.Adjustable:
		return words + " " + c.w.say("wheelchair.set")
	}
	return words + " " + c.w.say("wheelchair.no")
}

// nudge says after how many looks to push the tube, and which way: that of the
// target over the sky as somebody sees it who faces it.
func (c cardWriter) nudge(inst kit.Instrument, v lineup.View) string {
	if inst.Tracking {
		return c.w.say("nudge.tracking")
	}
	if v.Nudge > 30 {
		return c.w.say("nudge.none")
	}
	way := c.way(v)
	if v.Nudge <= 1 {
		return c.w.say("nudge.one", way)
	}
	return c.w.say("nudge.many", c.w.count(v.Nudge), way)
}

// way is the way a target goes over the sky: right, left, up, down, or two of
// them when neither is less than half the other.
func (c cardWriter) way(v lineup.View) string {
	up := v.AtEnd.AltRefracted - v.AtStart.AltRefracted
	alt := (v.AtEnd.AltRefracted + v.AtStart.AltRefracted) / 2
	right := math.Remainder(v.AtEnd.Az-v.AtStart.Az, 360) * math.Cos(alt*math.Pi/180)
	across, along := c.w.say("way.right"), c.w.say("way.up")
	if right < 0 {
		across = c.w.say("way.left")
	}
	if up < 0 {
		along = c.w.say("way.down")
	}
	switch {
	case math.Abs(up) < math.Abs(right)/2:
		return across
	case math.Abs(right) < math.Abs(up)/2:
		return along
	}
	return c.w.say("way.and", across, along)
}
