package web

import (
	"fmt"
	"net/http"

	"duskboard/internal/chart"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

func buyPath(nightID int64) string { return nightPath(nightID) + "/buy" }

// showKitBuy leads from the kit to the next night's page: what is missing is a
// question to a night, not to a shelf.
func (s *server) showKitBuy(w http.ResponseWriter, r *http.Request) error {
	all, err := s.store.Nights(r.Context())
	if err != nil {
		return err
	}
	var last night.Night
	for _, n := range all { // by date
		if n.Retired {
			continue
		}
		if last = n; !n.PublicTo().Before(s.now()) {
			break
		}
	}
	if last.ID != 0 {
		http.Redirect(w, r, buyPath(last.ID), http.StatusSeeOther)
		return nil
	}
	crumbs := []views.Link{{Text: "Kit", Href: "/kit"}}
	return s.show(w, r, http.StatusOK, views.Head{Title: "What to buy or borrow", Section: inKit, Crumbs: crumbs}, views.Buy(views.BuyModel{NoNight: true}))
}

// showBuy is what the night's kit lacks: the ladders of magnifications with
// their gaps at once, and which one more eyepiece helps most when it has been
// computed. While that runs the page asks again by itself.
func (s *server) showBuy(w http.ResponseWriter, r *http.Request) error {
	sh, print, err := s.printed(r)
	if err != nil {
		return err
	}
	m := views.BuyModel{Over: overline(sh), Action: buyPath(sh.Night.ID), Choose: nightPath(sh.Night.ID) + "/choose", Candidates: candidateWords()}
	if len(sh.Kit.Instruments) > 0 {
		fillLadders(sh, &m)
	}
	m.Ready = len(sh.Kit.Instruments) > 0 && len(sh.Targets) > 0
	if x, ok := s.weighings.of(sh.Night.ID); ok {
		fillWeighing(x, &m)
		m.Stale = x.ready && x.print != print
	}
	if m.Running {
		w.Header().Set("Refresh", "2")
	}
	crumbs := append(nightCrumbs(sh), views.Link{Text: "What fits what", Href: nightPath(sh.Night.ID) + "/fits"})
	return s.show(w, r, http.StatusOK, views.Head{Title: "What to buy or borrow · " + sh.Night.Name, Section: inNights, Crumbs: crumbs}, views.Buy(m))
}

// weighBuy starts the computing and leads back to the page.
func (s *server) weighBuy(w http.ResponseWriter, r *http.Request) error {
	sh, print, err := s.printed(r)
	if err != nil {
		return err
	}
	if len(sh.Kit.Instruments) > 0 && len(sh.Targets) > 0 {
		s.weighings.begin(sh, print)
	}
	http.Redirect(w, r, buyPath(sh.Night.ID)+"#helps-h", http.StatusSeeOther)
	return nil
}

// printed is the computed night of the address with its fingerprint.
func (s *server) printed(r *http.Request) (*night.Sheet, string, error) {
	sh, err := s.nightSheet(r)
	if err != nil {
		return nil, "", err
	}
	_, own, err := s.ownCatalogue(r.Context())
	if err != nil {
		return nil, "", err
	}
	return sh, fingerprint(sh.Plan, own), nil
}

// fillLadders draws the ladders and says them.
func fillLadders(sh *night.Sheet, m *views.BuyModel) {
	d := chart.LadderDrawing{ID: "ladders"}
	for i, l := range sh.Fits().Ladders() {
		inst := sh.Kit.Instruments[i]
		row := chart.LadderRow{Title: inst.Name, Detail: instrumentLine(inst), Low: l.Low, High: l.High}
		part := views.BuyLadder{Title: inst.Name, Table: stepTable(inst, l)}
		for _, st := range l.Steps {
			row.Rungs = append(row.Rungs, chart.Rung{Power: st.Power, Pupil: st.ExitPupil})
		}
		for _, g := range l.Gaps {
			row.Missing = append(row.Missing, chart.Missing{From: g.From, To: g.To, Word: fmt.Sprintf("about %.0f mm", g.Focal)})
			part.Gaps = append(part.Gaps, g.Words)
		}
		switch {
		case l.Fixed:
			part.Whole = "Its eyepieces are fixed."
		case len(l.Steps) == 0:
			part.Whole = "No eyepiece of the night fits it."
		case len(l.Gaps) == 0:
			part.Whole = "Nothing is missing."
		}
		d.Rows = append(d.Rows, row)
		m.Ladders = append(m.Ladders, part)
	}
	m.Drawing = string(chart.Ladders(d))
}

func stepTable(inst kit.Instrument, l lineup.Ladder) views.Table {
	t := views.Table{Caption: "Magnifications of " + inst.Name, Columns: []views.Column{
		{Label: "With"}, {Label: "Magnification", Number: true}, {Label: "Exit pupil", Number: true}, {Label: "True field", Number: true},
	}}
	for _, s := range l.Steps {
		t.Rows = append(t.Rows, []views.Cell{{Text: s.Train.String()}, {Text: fmt.Sprintf("%.0f×", s.Power)}, {Text: fmt.Sprintf("%.1f mm", s.ExitPupil)}, {Text: fieldWords(s.Field)}})
	}
	return t
}

// candidateWords names the eyepieces that are weighed, the same for everybody.
func candidateWords() []string {
	var out []string
	for _, e := range lineup.Candidates() {
		out = append(out, eyepieceWords(e))
	}
	return out
}

// eyepieceWords is a generic eyepiece: focal length, apparent field, barrel.
func eyepieceWords(e kit.Eyepiece) string {
	barrel := "1.25 inch"
	if e.Barrel == kit.Barrel2 {
		barrel = "2 inch"
	}
	return fmt.Sprintf("%.0f mm, %.0f° apparent field, %s", e.FocalLength, e.ApparentField, barrel)
}

// fillWeighing says how far the computing is, or what it found.
func fillWeighing(x weighing, m *views.BuyModel) {
	if !x.ready {
		m.Running, m.Progress = true, fmt.Sprintf("%d of %d eyepieces weighed.", x.done, x.all)
		return
	}
	if x.err != nil {
		m.Failed = "The night could not be planned again; nothing is known about eyepieces. Compute it once more."
		return
	}
	c := x.counsel
	m.Known = true
	t := views.Table{Caption: "One more eyepiece, weighed", Columns: []views.Column{{Label: "Eyepiece"}, {Label: "More good looks", Number: true}, {Label: "Share", Number: true}, {Label: "What it would do"}}}
	for _, b := range c.Buys {
		t.Rows = append(t.Rows, []views.Cell{{Text: eyepieceWords(b.Eyepiece)}, {Text: fmt.Sprintf("%.0f", b.Gain)}, {Text: fmt.Sprintf("%.1f %%", 100*b.Share)}, {Text: b.Use}})
	}
	for _, o := range c.Others {
		t.Rows = append(t.Rows, []views.Cell{{Text: eyepieceWords(o.Eyepiece)}, {Text: "none"}, {}, {Text: o.Reason}})
	}
	m.Weighed = t
	m.Answer = fmt.Sprintf("No one of these eyepieces would raise the night's score of %.0f good looks by more than a search can tell.", c.Score)
	if len(c.Buys) > 0 {
		b := c.Buys[0]
		m.Answer = fmt.Sprintf("%s, helps most: about %.0f more good looks on top of %.0f, in %s.", eyepieceWords(b.Eyepiece), b.Gain, c.Score, b.Use)
	}
	if c.Stopped {
		m.Failed = "Time ran out before all eyepieces were weighed."
	}
}
