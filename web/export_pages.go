package web

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// keepingForm is the times as typed, in months.
type keepingForm struct{ Answers, History, Contacts, Version string }

var keepingLabels = map[string]string{"Answers": "Answers of the crew", "History": "Histories", "Contacts": "Unused contact data"}

func keepingFormOf(k night.Keeping) keepingForm {
	return keepingForm{strconv.Itoa(k.Answers), strconv.Itoa(k.History), strconv.Itoa(k.Contacts), strconv.FormatInt(k.Version, 10)}
}

// parse reads the times; an empty box is 0, for ever.
func (f keepingForm) parse() (k night.Keeping, faults fault.Fields) {
	read := func(name, typed string) int {
		if typed == "" {
			return 0
		}
		return wholeNumber(typed, 0, 240, func() {
			faults = append(faults, fault.Field{Name: name, Message: "A whole number of months, 0 (for ever) to 240."})
		})
	}
	k = night.Keeping{Answers: read("Answers", f.Answers), History: read("History", f.History), Contacts: read("Contacts", f.Contacts)}
	k.Version, _ = strconv.ParseInt(f.Version, 10, 64)
	return k, faults
}

// showData is the page of what goes in and out.
func (s *server) showData(w http.ResponseWriter, r *http.Request) error {
	k, err := s.store.Keeping(r.Context())
	if err != nil {
		return err
	}
	return s.dataPage(w, r, http.StatusOK, keepingFormOf(k), nil, false)
}

// shownClubEntries bounds the list on the page.
const shownClubEntries = 100

func (s *server) dataPage(w http.ResponseWriter, r *http.Request, status int, f keepingForm, faults fault.Fields, stale bool) error {
	rows, err := s.store.Rows(r.Context())
	if err != nil {
		return err
	}
	imports, err := s.store.Imports(r.Context())
	if err != nil {
		return err
	}
	log, err := s.store.ClubHistory(r.Context(), shownClubEntries)
	if err != nil {
		return err
	}
	m := views.DataModel{
		Tables: []views.DataRow{
			{Title: "Kit", Import: "/kit/import", Export: "/kit/export.csv"}, {Title: "Sites", Import: "/sites/import", Export: "/sites/export.csv"},
			{Title: "Nights", Import: "/nights/table/import", Export: "/nights/table/export.csv"}, {Title: "Own targets", Import: "/targets/import", Export: "/targets/export.csv"},
			{Title: "Volunteers", Import: "/crew/import", Export: "/crew/export.csv"},
		},
		Size: plural(int(rows), "row", "rows") + " in all", Version: f.Version, Faults: labelled(faults, keepingLabels), Stale: stale,
		Answers:  views.Field{Name: "Answers", Label: keepingLabels["Answers"], Unit: "months", Value: f.Answers, Error: faults.For("Answers"), Mode: "numeric", Width: "short", Hint: "Who could come when, wishes, lifts, who brings what. Who was asked and what they did stays."},
		History:  views.Field{Name: "History", Label: keepingLabels["History"], Unit: "months", Value: f.History, Error: faults.For("History"), Mode: "numeric", Width: "short", Hint: "Who changed what in a night, and the lines of this page below. Earlier line-ups and rosters of those nights go with it."},
		Contacts: views.Field{Name: "Contacts", Label: keepingLabels["Contacts"], Unit: "months", Value: f.Contacts, Error: faults.For("Contacts"), Mode: "numeric", Width: "short", Hint: "E-mail and phone of volunteers who were on no night and used no personal link since. The name stays."},
	}
	for _, i := range imports {
		m.Imports = append(m.Imports, views.ImportDone{When: stamp(i.At), Who: i.Who, What: first(i.What), Undo: importPath(i.ID) + "/undo"})
	}
	for _, e := range log {
		m.Log = append(m.Log, views.HistoryRow{When: stamp(e.At), Who: e.Who, What: first(e.What)})
	}
	return s.show(w, r, status, views.Head{Title: "Data in and out", Crumbs: []views.Link{{Text: "Settings", Href: "/club"}}}, views.Data(m))
}

// stamp is an instant that belongs to no site.
func stamp(t time.Time) string { return t.UTC().Format("2 Jan 2006, 15:04 UTC") }

func importPath(id int64) string { return "/imports/" + strconv.FormatInt(id, 10) }

func (s *server) saveKeeping(w http.ResponseWriter, r *http.Request) error {
	f := keepingForm{typedText(r, "Answers"), typedText(r, "History"), typedText(r, "Contacts"), typedText(r, "Version")}
	k, faults := f.parse()
	if len(faults) > 0 {
		return s.dataPage(w, r, http.StatusUnprocessableEntity, f, faults, false)
	}
	switch err := s.store.SaveKeeping(r.Context(), &k); {
	case err != nil && fault.KindOf(err) == fault.Conflict:
		now, err := s.store.Keeping(r.Context())
		if err != nil {
			return err
		}
		f.Version = strconv.FormatInt(now.Version, 10)
		return s.dataPage(w, r, http.StatusConflict, f, nil, true)
	case err != nil:
		return err
	}
	return redirect(w, r, "/club/data", views.Flash{Text: "The times are saved. What is over is cleared within a day."})
}

func (s *server) undoImport(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "import")
	if err != nil {
		return err
	}
	what, err := s.store.UndoImport(r.Context(), id)
	if err != nil {
		return err
	}
	return redirect(w, r, "/club/data", views.Flash{Text: "Taken back: " + what + ". What it added is in the bin."})
}

// everythingTime is how long the file with everything may take: it goes out as
// it is read, and its length is told first, so that a browser shows how far it
// is.
const everythingTime = 10 * time.Minute

func (s *server) sendEverything(w http.ResponseWriter, r *http.Request) error {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(r.Context()), everythingTime)
	defer cancel()
	// What the server's settings allow other pages is too short for this one; a
	// writer that cannot be told keeps its own.
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(everythingTime))
	if err := s.store.NoteClub(ctx, "take everything out"); err != nil {
		return err
	}
	h := w.Header()
	begun := false
	err := s.store.Whole(ctx, w, s.now(), func(bytes int64) {
		h.Set("Content-Type", "application/octet-stream") // a file to keep; not compressed, so that its length holds
		h.Set("Content-Disposition", `attachment; filename="duskboard-`+s.now().UTC().Format(time.DateOnly)+`.json"`)
		h.Set("Content-Length", strconv.FormatInt(bytes, 10))
		h.Set("Cache-Control", "no-store")
		begun = true
	}, nil)
	if err != nil && begun {
		// Half a file is on its way: the browser must see that it broke off.
		recordOf(r).err = err
		panic(http.ErrAbortHandler)
	}
	return err
}

// sendPerson is the file about one volunteer, for a coordinator.
func (s *server) sendPerson(w http.ResponseWriter, r *http.Request) error {
	v, err := s.storedVolunteer(r)
	if err != nil {
		return err
	}
	return s.personFile(w, r, v.ID)
}

// sendOwnData is the same by the personal link.
func (s *server) sendOwnData(w http.ResponseWriter, r *http.Request) error {
	v, _, err := s.guest(w, r, false)
	if err != nil {
		return err
	}
	return s.personFile(w, r, v.ID)
}

func (s *server) personFile(w http.ResponseWriter, r *http.Request, id int64) error {
	var b bytes.Buffer
	if err := s.store.Person(r.Context(), &b, id); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "application/json")
	h.Set("Content-Disposition", fmt.Sprintf(`attachment; filename="volunteer-%d.json"`, id))
	h.Set("Cache-Control", "no-store")
	_, err := w.Write(b.Bytes())
	return err
}
