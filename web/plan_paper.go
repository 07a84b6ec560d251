package web

import (
	"math"
	"net/http"
	"strings"

	"duskboard/internal/chart"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/web/views"
)

// showPlanSheet is the field on one page of paper.
func (s *server) showPlanSheet(w http.ResponseWriter, r *http.Request) error {
	c, m, choice, err := s.papersFor(w, r, "field/sheet")
	if err != nil {
		return err
	}
	m.Plan, m.PlanHref = c.planSheet(choice), planPath(c.sh.Night.ID)
	return s.show(w, r, http.StatusOK, views.Head{Title: "Field · " + c.sh.Night.Name, Section: inNights, Crumbs: nightCrumbs(c.sh)}, views.PlanSheetPage(m))
}

// place tells where an instrument stands: its place on the field, or what its
// owner noted while nobody laid the field out.
func (c cardWriter) place(inst kit.Instrument) string {
	if p, ok := c.sh.PlaceOf(inst.ID); ok {
		return c.placeWords(c.field(), p)
	}
	if inst.Stand != "" {
		return c.w.say("stand", inst.Stand)
	}
	return ""
}

// field is the layout; computed once for a set of papers.
func (c cardWriter) field() *ground.Layout {
	if c.layout == nil {
		return c.sh.Field()
	}
	return c.layout
}

func (c cardWriter) placeWords(l *ground.Layout, p ground.Place) string {
	switch w := l.Where(p.At); {
	case w.By != "" && w.Long && w.Outward:
		return c.w.say("field.along", p.Number, w.By, c.w.direction(w.Toward))
	case w.By != "":
		return c.w.say("field.by", p.Number, w.By)
	case w.Outward:
		return c.w.say("field.toward", p.Number, c.w.direction(w.Toward))
	}
	return c.w.say("field.middle", p.Number)
}

// planSheet is the page of the field; nil while nobody has a place.
func (c cardWriter) planSheet(choice cardChoice) *views.PlanSheet {
	if len(c.sh.Places) == 0 || c.sh.Ground.Empty() {
		return nil
	}
	z := sheetSizes[choice.Paper+"-full"]
	l := c.field()
	d := planDrawing(c.sh, l)
	m := &views.PlanSheet{
		Title: c.w.say("field.title"), Over: c.sh.Night.Name + " · " + c.sh.Site.Name, Date: c.date(),
		Lead: c.w.say("field.lead", len(d.Lamps)), Key: c.w.say("field.key"), Care: c.w.say("field.care"),
	}
	for _, p := range c.sh.Places {
		if s, ok := standOf(l, p.InstrumentID); ok {
			m.Rows = append(m.Rows, c.placeRow(l, s, p))
		}
	}
	d.ID, d.Paper, d.W, d.Type = "paper-plan", true, z.W, 10.5
	d.MaxH = z.H - c.planTextHigh(z, m)
	d.Tags = chart.PlanTags{North: c.w.say("field.north"), Metres: "m", Gate: c.w.say("field.gate"), Power: c.w.say("field.power")}
	if best, ok := l.Best(); ok {
		d.Labels[best.ID] = c.w.say("field.seatedTag")
	}
	m.Drawing = string(chart.DrawPlan(d))
	return m
}

func (c cardWriter) placeRow(l *ground.Layout, s ground.Stand, p ground.Place) string {
	words := []string{c.w.say("field.row", s.Name+".", c.placeWords(l, p), c.w.direction(p.Queue))}
	switch s.Step {
	case ground.Ladder:
		words = append(words, c.w.say("field.ladder"))
	case ground.Stool:
		words = append(words, c.w.say("field.step"))
	}
	if best, ok := l.Best(); ok && best.ID == s.ID {
		words = append(words, c.w.say("field.seated"))
	}
	if s.Mains {
		words = append(words, c.w.say("field.cable"))
	}
	return strings.Join(words, " ")
}

// planTextHigh is the height of all but the drawing, pt.
func (c cardWriter) planTextHigh(z sheetSize, m *views.PlanSheet) float64 {
	head := cardType["head"]
	h := head.leading + head.gap + 2*(12.4+1.5) + 16
	column := (z.W - columnGap) / 2
	for i := 0; i < len(m.Rows); i += 2 { // two columns, row by row
		a := high("fact", "", m.Rows[i], column)
		if i+1 < len(m.Rows) {
			a = math.Max(a, high("fact", "", m.Rows[i+1], column))
		}
		h += a + 2
	}
	h += 14
	return h + high("", "", m.Key, z.W) + high("strong", "", m.Care, z.W) + 14
}
