package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"duskboard/internal/crew"
	"duskboard/internal/night"
)

// A calendar event is one person's turn on one night, from the first duty to
// the end of the last, with the duties in its description. It is not one event
// a duty: a new proposal gives duties new numbers, and the event has to stay
// the same one, changed, in the calendar of whoever subscribed.

// showNightCalendar answers /n/{night}/crew/{token}.ics.
func (s *server) showNightCalendar(w http.ResponseWriter, r *http.Request) error {
	v, _, err := s.guest(w, r, true)
	if err != nil {
		return err
	}
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	return s.sendCalendar(w, r, v, []roster{x}, fmt.Sprintf("night-%d.ics", x.Night.ID))
}

// showCalendar is all coming nights of a volunteer, to subscribe to.
func (s *server) showCalendar(w http.ResponseWriter, r *http.Request) error {
	v, _, err := s.guest(w, r, true)
	if err != nil {
		return err
	}
	nights, err := s.nightsOf(r, v)
	if err != nil {
		return err
	}
	return s.sendCalendar(w, r, v, nights, "nights.ics")
}

func (s *server) sendCalendar(w http.ResponseWriter, r *http.Request, v crew.Volunteer, nights []roster, file string) error {
	cal := ics.NewCalendarFor("Duskboard")
	cal.SetMethod(ics.MethodPublish)
	cal.SetXWRCalName("Public nights")
	cal.SetXPublishedTTL("PT1H")
	cal.SetRefreshInterval("PT1H")
	for _, x := range nights {
		entries, err := s.store.Rosters(r.Context(), x.Night.ID)
		if err != nil {
			return err
		}
		x.addEvent(cal, v, entries, s.now())
	}
	h := w.Header()
	h.Set("Content-Type", "text/calendar; charset=utf-8")
	h.Set("Content-Disposition", `attachment; filename="`+file+`"`)
	_, err := w.Write([]byte(cal.Serialize(ics.WithNewLineWindows)))
	return err
}

// addEvent adds the turn of one person on the night; a cancelled one when they
// had duties and have none any more, so that the event leaves their calendar.
func (x roster) addEvent(cal *ics.Calendar, v crew.Volunteer, entries []night.RosterEntry, now time.Time) {
	ds := x.dutiesOf(v.ID)
	sequence, changed, had := turnHistory(entries, v.ID)
	if len(ds) == 0 && len(had) == 0 {
		return
	}
	e := cal.AddEvent(fmt.Sprintf("night-%d-crew-%d@duskboard", x.Night.ID, v.ID))
	// The night's own version counts as well: its name, site or date may change.
	e.SetSequence(sequence + int(x.Night.Version) - 1)
	if changed.IsZero() {
		changed = now
	}
	e.SetDtStampTime(changed)
	e.SetModifiedAt(changed)
	e.SetStatus(ics.ObjectStatusConfirmed)
	if len(ds) == 0 || x.Night.Retired {
		e.SetStatus(ics.ObjectStatusCancelled)
		if len(ds) == 0 {
			ds = had
		}
	}
	from, to := ds[0].From, ds[0].To()
	var lines []string
	for _, d := range ds {
		from, to = earlier(from, d.From), later(to, d.To())
		line := span(x.Sheet, d.From, d.To()) + " " + x.postName(postOf(d))
		if names := x.with(d); len(names) > 0 {
			line += " with " + crew.List(names, 3)
		}
		lines = append(lines, line)
	}
	e.SetStartAt(from.UTC())
	e.SetEndAt(to.UTC())
	e.SetSummary(x.Night.Name)
	e.SetLocation(x.Site.Name)
	e.SetGeo(fmt.Sprintf("%.6f", x.Site.Place.Lat), fmt.Sprintf("%.6f", x.Site.Place.Lon))
	lines = append(lines, "Times in "+zoneName(x.Sheet)+". Open to guests "+span(x.Sheet, x.Night.PublicFrom, x.Night.PublicTo())+".")
	if x.Club.Contact != "" {
		lines = append(lines, "Contact: "+x.Club.Contact)
	}
	e.SetDescription(strings.Join(lines, "\n"))
}

// turnHistory returns how often somebody's duties of a night changed, when they
// did last, and the last ones they had.
func turnHistory(entries []night.RosterEntry, volunteer int64) (changes int, at time.Time, last []crew.Duty) {
	type turn struct {
		post crew.Post
		from int64
		len  time.Duration
	}
	var before []turn
	for _, e := range entries {
		var now []turn
		var ds []crew.Duty
		for _, d := range e.Duties {
			if d.VolunteerID == volunteer {
				now, ds = append(now, turn{postOf(d), d.From.Unix(), d.Length}), append(ds, d)
			}
		}
		if !slices.Equal(before, now) {
			changes, at = changes+1, e.At
		}
		if len(ds) > 0 {
			last = ds
		}
		before = now
	}
	return max(changes-1, 0), at, last
}
