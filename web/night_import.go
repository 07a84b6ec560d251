package web

import (
	"errors"
	"fmt"
	"net/http"
	"strings"

	"duskboard/internal/catalog"
	"duskboard/internal/fault"
	"duskboard/internal/ground"
	"duskboard/internal/night"
	"duskboard/internal/nightfile"
	"duskboard/web/views"
)

func (s *server) showNightImport(w http.ResponseWriter, r *http.Request) error {
	return s.nightImportPage(w, r, http.StatusOK, views.NightImportModel{})
}

func (s *server) nightImportPage(w http.ResponseWriter, r *http.Request, status int, m views.NightImportModel) error {
	head := views.Head{Title: "A night from a file", Section: inNights, Crumbs: []views.Link{{Text: "Nights", Href: "/nights"}}}
	return s.show(w, r, status, head, views.NightImport(m))
}

// takeNightImport shows what a file would make; sent again with keep=1 it is
// made. A file with any fault changes nothing and stands in the box as it was
// sent, each fault with its path.
func (s *server) takeNightImport(w http.ResponseWriter, r *http.Request) error {
	var m views.NightImportModel
	text, wrong, err := sentText(r, "text")
	var tooLarge *http.MaxBytesError
	if errors.As(err, &tooLarge) {
		m.Faults = []views.PathFault{{Path: "the file", Message: fmt.Sprintf("It is larger than %d MB; a night is far smaller. Is it another kind of file?", tooLarge.Limit>>20)}}
		return s.nightImportPage(w, r, http.StatusUnprocessableEntity, m)
	} else if err != nil {
		return fault.Wrap(fault.Invalid, err, "This form could not be read.")
	}
	if wrong != "" {
		m.Faults = []views.PathFault{{Path: "the file", Message: wrong}}
		return s.nightImportPage(w, r, http.StatusUnprocessableEntity, m)
	}
	m.Text = text
	if strings.TrimSpace(text) == "" {
		m.Faults = []views.PathFault{{Path: "the file", Message: "Choose a file, or paste one into the box."}}
		return s.nightImportPage(w, r, http.StatusUnprocessableEntity, m)
	}
	p, err := nightfile.Read(strings.NewReader(text))
	if err == nil {
		err = nightfile.Keepable(p)
	}
	if err != nil {
		return s.refuseNightFile(w, r, m, err)
	}
	have, err := s.stock(r.Context())
	if err != nil {
		return err
	}
	m.Beside = r.PostFormValue("beside") == "1"
	merge := nightfile.Merged(p, have, m.Beside)
	for i := range merge.Import.Satellites {
		merge.Import.Satellites[i].AddedAt = s.now().UTC()
	}
	if r.PostFormValue("keep") == "1" {
		return s.keepNightFile(w, r, m, merge)
	}
	m.Preview = previewOf(p, merge)
	return s.nightImportPage(w, r, http.StatusOK, m)
}

// refuseNightFile lists what is wrong, each fault beside its path.
func (s *server) refuseNightFile(w http.ResponseWriter, r *http.Request, m views.NightImportModel, err error) error {
	var fields fault.Fields
	var own *fault.Error
	switch {
	case errors.As(err, &fields):
		for _, f := range fields {
			path := f.Name
			if path == "/" {
				path = "the file"
			}
			m.Faults = append(m.Faults, views.PathFault{Path: path, Message: first(f.Message) + "."})
		}
	case errors.As(err, &own) && own.Kind == fault.Invalid:
		m.Faults = []views.PathFault{{Path: "the file", Message: first(own.Message)}}
	default:
		return err
	}
	return s.nightImportPage(w, r, http.StatusUnprocessableEntity, m)
}

func (s *server) keepNightFile(w http.ResponseWriter, r *http.Request, m views.NightImportModel, merge nightfile.Merge) error {
	id, err := s.store.ImportNight(r.Context(), merge.Import)
	if fault.KindOf(err) == fault.Invalid {
		return s.refuseNightFile(w, r, m, err)
	} else if err != nil {
		return err
	}
	undo := ""
	if n, err := s.store.Night(r.Context(), id); err == nil { // without it there is just no undo to offer
		undo = retirePath(nightPath(id), n.Version)
	}
	fresh := 0
	for _, p := range merge.Pieces {
		if p.New {
			fresh++
		}
	}
	return redirect(w, r, nightPath(id), views.Flash{Text: fmt.Sprintf("%s is brought in, with %s.", merge.Import.Night.Name, plural(fresh, "new thing", "new things")), Undo: undo})
}

// previewOf says what a file would make.
func previewOf(p night.Plan, m nightfile.Merge) *views.NightPreview {
	v := &views.NightPreview{Title: p.Night.Name, Pieces: importRows(m), Notes: m.Notes, TakeClub: m.Import.TakeClub}
	v.Rows = []views.Row{{Label: "Date", Value: printDate(p.Night.Date)}}
	if zone, err := p.Site.Location(); err == nil {
		v.Rows = append(v.Rows, views.Row{Label: "Public hours", Value: clock(clockOf(p.Night.PublicFrom, zone)) + " to " + clock(clockOf(p.Night.PublicTo(), zone)), Note: p.Night.PublicFrom.In(zone).Format("MST")})
	}
	v.Rows = append(v.Rows,
		views.Row{Label: "Guests", Value: fmt.Sprint(p.Night.Guests), Note: wordFor(audienceWords, p.Night.Audience)},
		views.Row{Label: "Targets", Value: fmt.Sprint(len(p.Targets)), Note: fmt.Sprintf("%d must be shown", len(p.MustShow))},
		views.Row{Label: "Line-up", Value: plural(len(p.Showings), "showing", "showings"), Note: plural(len(p.Forbidden), "pair kept apart", "pairs kept apart")},
		views.Row{Label: "Roster", Value: plural(len(p.Duties), "duty", "duties"), Note: plural(len(p.Volunteers), "volunteer", "volunteers")},
		views.Row{Label: "Field", Value: plural(len(p.Places), "place", "places"), Note: groundNote(p.Ground)},
		views.Row{Label: "Weather", Value: plural(len(p.Weather.Hours), "hour", "hours"), Note: p.Weather.Source},
	)
	for _, x := range m.Pieces {
		if len(x.Differs) > 0 {
			v.Differ = true
		}
	}
	v.Breaks = conflictsOf(p)
	return v
}

// groundNote says how much of a ground a file brings.
func groundNote(g ground.Ground) string {
	if g.Empty() {
		return "no plan of the ground"
	}
	low, high := ground.Bounds(g.Outline)
	return fmt.Sprintf("ground of %.0f by %.0f m with %s", high.X-low.X, high.Y-low.Y, plural(len(g.Features), "feature", "features"))
}

// conflictsOf are the rules that the file's own line-up breaks, judged with the
// file's own gear; they do not hinder taking it in.
func conflictsOf(p night.Plan) []string {
	sh, err := night.Build(p, night.OwnCatalogue(catalog.Default(), p.Own))
	if err != nil {
		return []string{first(err.Error()) + "."}
	}
	var out []string
	for _, c := range sh.Input.Check(sh.Fits(), sh.Showings) {
		out = append(out, c.Words)
	}
	return out
}
