package web

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/chart"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// eyeCaption is the height of the one line under a naked-eye chart with the gap
// over it, pt.
const eyeCaption = 11.8 + 6

// chartGap is the room between two charts of a row, pt.
const chartGap = 10.0

// charts draws the row of a showing: the naked-eye chart, then finder and
// eyepiece; for a planet or the Moon a close-up in the finder's stead, since
// they are their own guide stars. A compact sheet has room for two: what leads
// there and what is seen there, besides what is spare. The row is h high, pt; round fields take a
// third of its width at most. spare is what a compact sheet has left under
// them: the naked-eye chart, where it is enough.
func (c cardWriter) charts(id string, inst kit.Instrument, s lineup.Showing, z sheetSize, h, spare float64) []views.Chart {
	v := c.sh.Input.ViewOf(c.fits, s)
	listed, ok := c.sh.Target(s.TargetID)
	if !v.Known || !ok {
		return nil
	}
	t := c.w.target(listed)
	mid := s.From.Add(s.Length / 2)
	width, across := z.chartWidth(), 3.0
	if z.Layout == "compact" {
		across = 2
	}
	round := math.Floor(min(h, (width-(across-1)*chartGap)/across))
	view := chart.EyepieceOf(c.sh.Sky, t, mid, &v.Train)
	if t.Moves && t.Body == sky.Sun {
		return []views.Chart{c.eyepieceChart(id, t, view, round)} // never found with the naked eye
	}
	var under []views.Chart
	if room := math.Floor(min(spare-eyeCaption, 120)); z.Layout == "compact" && room >= 64 {
		under = []views.Chart{c.eyeChart(id, t, mid, width, room)}
	}
	if up, ok := chart.CloseUpOf(c.sh.Sky, t, mid, view); ok {
		return append(c.bodyCharts(id, t, mid, view, up, z, round, h), under...)
	}
	finder, hasFinder := c.finderChart(id, inst, t, mid, round)
	switch {
	case !hasFinder:
		if across == 3 {
			round = math.Floor(min(h, width*0.44))
		}
		return []views.Chart{c.eyeChart(id, t, mid, width-round-chartGap, h), c.eyepieceChart(id, t, view, round)}
	case z.Layout == "compact":
		return append([]views.Chart{finder, c.eyepieceChart(id, t, view, round)}, under...)
	}
	return []views.Chart{c.eyeChart(id, t, mid, width-2*(round+chartGap), h), finder, c.eyepieceChart(id, t, view, round)}
}

// bodyCharts are the charts of the Moon or a planet: the sky toward it, the
// field, and the body close up with names.
func (c cardWriter) bodyCharts(id string, t catalog.Target, mid time.Time, view chart.Eyepiece, up chart.CloseUp, z sheetSize, round, h float64) []views.Chart {
	width, caption := z.chartWidth(), c.w.say("chart.closeup")
	up.ID, up.H, up.W = id+"u", round, round
	up.Labels = c.labels(t.Name, c.w.say("chart.closeup.desc", t.Name))
	close := func() views.Chart { return views.Chart{SVG: string(chart.DrawCloseUp(up)), Caption: caption} }
	switch {
	case t.Body == sky.Moon:
		// Names stand on both sides of the disc: a wide drawing. The field is
		// the disc again, so it can be small.
		caption, up.H = c.w.say("chart.closeup.moon"), h
		if z.Layout == "compact" {
			up.W = width
			return []views.Chart{close()}
		}
		small := math.Floor(min(round, 0.2*width))
		eye := math.Floor(0.22 * width)
		up.W = math.Floor(min(width-small-eye-2*chartGap, h+170))
		return []views.Chart{c.eyeChart(id, t, mid, eye, h), c.eyepieceChart(id, t, view, small), close()}
	case z.Layout == "compact":
		return []views.Chart{c.eyepieceChart(id, t, view, round), close()}
	case t.Body == sky.Jupiter:
		up.W = math.Floor((width - round - chartGap) * 0.58) // its moons lie in a line
	}
	return []views.Chart{c.eyeChart(id, t, mid, width-round-up.W-2*chartGap, h), c.eyepieceChart(id, t, view, round), close()}
}

func (c cardWriter) eyepieceChart(id string, t catalog.Target, view chart.Eyepiece, size float64) views.Chart {
	view.ID, view.W, view.H = id+"v", size, size
	field := c.w.field(view.Field)
	view.Labels = c.labels(t.Name, c.w.say("chart.eyepiece.desc", t.Name, field, clockHour(view.Orientation.North), clockHour(view.Orientation.East)))
	return views.Chart{SVG: string(chart.DrawEyepiece(view)), Caption: c.w.say("chart.eyepiece", field, clockHour(view.Orientation.Drift))}
}

func (c cardWriter) labels(title, desc string) chart.Labels {
	l := chart.Labels{North: c.w.say("north"), East: c.w.say("east"), Title: title, Desc: desc, Moons: c.w.bodies()}
	copy(l.Compass[:], c.w.Lists["compass"])
	return l
}

func (c cardWriter) eyeChart(id string, t catalog.Target, at time.Time, w, h float64) views.Chart {
	e := chart.EyeOf(c.sh.Sky, t, at, c.sh.Site.Horizon, c.w.constellation)
	e.ID, e.W, e.H = id+"e", math.Floor(min(w, 1.7*h)), h
	where := c.w.direction(e.Target.Lon)
	e.Labels = c.labels(t.Name, c.w.say("chart.eye.desc", t.Name, degrees(e.Target.Lat), where))
	return views.Chart{SVG: string(chart.DrawEye(e)), Caption: c.w.say("chart.eye", where)}
}

// finderChart is the view of the instrument's finder; false for binoculars
// and for what has none.
func (c cardWriter) finderChart(id string, inst kit.Instrument, t catalog.Target, at time.Time, h float64) (views.Chart, bool) {
	f, found := c.finders[inst.ID]
	if !found {
		return views.Chart{}, false
	}
	path, field := optics.FinderPath(f.Kind), f.Field
	caption := c.w.say("chart.finder", c.w.field(field), c.turnedWord(path))
	if f.Kind == kit.UnitPower {
		field, caption = 0, c.w.say("chart.sight")
	}
	m := chart.FinderOf(c.sh.Sky, t, at, path, field, 8)
	m.ID, m.W, m.H = id+"f", h, h
	desc := c.w.say("chart.finder.itself", t.Name)
	if m.Start != nil {
		desc = c.w.say("chart.finder.desc", t.Name, m.Start.Name)
		caption += ", " + c.w.say("chart.from", m.Start.Name)
	}
	m.Labels = c.labels(t.Name, desc)
	return views.Chart{SVG: string(chart.DrawFinder(m)), Caption: caption}, true
}

// handOutFinders gives each instrument the finder to draw: its own, the one
// that magnifies if it has two; else one of the loose ones, those that magnify
// first and first to the instruments that find nothing by themselves.
func handOutFinders(k kit.Kit) map[int64]kit.Finder {
	out := map[int64]kit.Finder{}
	var loose []kit.Finder
	for _, f := range k.Finders {
		if f.ForID == 0 {
			for range max(f.Count, 1) {
				loose = append(loose, f)
			}
		} else if have, ok := out[f.ForID]; !ok || f.Power > have.Power {
			out[f.ForID] = f
		}
	}
	slices.SortStableFunc(loose, func(a, b kit.Finder) int { return cmp.Compare(b.Power, a.Power) })
	for _, goTo := range []bool{false, true} {
		for _, i := range k.Instruments {
			if _, ok := out[i.ID]; ok || i.GoTo != goTo || i.Design == kit.Binoculars || len(loose) == 0 {
				continue
			}
			out[i.ID], loose = loose[0], loose[1:]
		}
	}
	return out
}

func (c cardWriter) turnedWord(p optics.Path) string {
	switch {
	case p.Mirrored():
		return c.w.say("turned.mirrored")
	case p.Turn() == 180:
		return c.w.say("turned.over")
	}
	return c.w.say("turned.upright")
}

// clockHour turns a direction in the picture into the hour of a clock's hand.
func clockHour(angle float64) int {
	h := int(math.Round(angle/30)) % 12
	if h == 0 {
		return 12
	}
	return h
}

// chartID is a prefix that is unique on a page of papers.
func chartID(inst int64, i int) string { return fmt.Sprintf("c%d-%d", inst, i) }
