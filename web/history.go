package web

import (
	"context"
	"net/http"
	"strconv"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// HistoryStore knows who changed what in a night, and brings back what was.
type HistoryStore interface {
	History(ctx context.Context, nightID int64) ([]night.Entry, error) // newest first
	RestoreLineUp(ctx context.Context, nightID, lineUpVersion, entryID int64) (int64, error)
	RestoreRoster(ctx context.Context, nightID, rosterVersion, entryID int64) (int64, error)
}

// shownEntries bounds the page; the history itself keeps everything.
const shownEntries = 300

// showHistory lists who changed what in a night, newest first. Times are on
// the clock of the site, as everywhere.
func (s *server) showHistory(w http.ResponseWriter, r *http.Request) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	p, err := s.store.Plan(r.Context(), id)
	if err != nil {
		return err
	}
	entries, err := s.store.History(r.Context(), id)
	if err != nil {
		return err
	}
	zone, err := p.Site.Location()
	if err != nil {
		return err
	}
	m := views.HistoryModel{
		Title: p.Night.Name, More: len(entries) > shownEntries,
		LineUpVersion: strconv.FormatInt(p.LineUpVersion, 10), RosterVersion: strconv.FormatInt(p.RosterVersion, 10),
	}
	// The newest state of each is in force: there is nothing to bring back.
	lineUp, roster := false, false
	for _, e := range entries[:min(len(entries), shownEntries)] {
		row := views.HistoryRow{When: e.At.In(zone).Format("Mon 2 Jan 2006, 15:04"), Who: e.Who, What: first(e.What)}
		if row.Who == "" && s.demo {
			row.Who = "demo" // it has no accounts
		}
		base := nightPath(id) + "/history/" + strconv.FormatInt(e.ID, 10)
		if e.LineUp {
			if lineUp {
				row.LineUp = base + "/line-up"
			}
			lineUp = true
		}
		if e.Roster {
			if roster {
				row.Roster = base + "/roster"
			}
			roster = true
		}
		m.Rows = append(m.Rows, row)
	}
	head := views.Head{Title: "History", Section: inNights, Crumbs: []views.Link{{Text: "Nights", Href: "/nights"}, {Text: p.Night.Name, Href: nightPath(id)}}}
	return s.show(w, r, http.StatusOK, head, views.History(m))
}

func (s *server) bringBackLineUp(w http.ResponseWriter, r *http.Request) error {
	return s.bringBack(w, r, s.store.RestoreLineUp, "The earlier line-up is back. What was in force before stays in this history.", "/line-up/undo")
}

func (s *server) bringBackRoster(w http.ResponseWriter, r *http.Request) error {
	return s.bringBack(w, r, s.store.RestoreRoster, "The earlier roster is back. What was in force before stays in this history.", "/roster/undo")
}

// bringBack carries the version that the page showed: whoever changed the plan
// meanwhile is not overwritten.
func (s *server) bringBack(w http.ResponseWriter, r *http.Request, restore func(context.Context, int64, int64, int64) (int64, error), words, undo string) error {
	id, err := idParam(r, "night")
	if err != nil {
		return err
	}
	entry, err := idParam(r, "entry")
	if err != nil {
		return err
	}
	version, err := strconv.ParseInt(r.PostFormValue("Version"), 10, 64)
	if err != nil {
		return fault.New(fault.Invalid, "The page was not complete. Open the history again.")
	}
	if _, err := restore(r.Context(), id, version, entry); err != nil {
		return err
	}
	return redirect(w, r, nightPath(id)+"/history", views.Flash{Text: words, Undo: nightPath(id) + undo})
}
