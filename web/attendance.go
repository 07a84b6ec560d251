package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/web/views"
)

// attendForm is who was there, as typed, by volunteer.
type attendForm struct {
	there map[int64]bool
	hours map[int64]string
}

// showAttendance is who was there on a night, filled in from the roster: most
// nights, one button says it all.
func (s *server) showAttendance(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	noted, err := s.store.Attendance(r.Context(), x.Night.ID)
	if err != nil {
		return err
	}
	f := attendForm{map[int64]bool{}, map[int64]string{}}
	for _, v := range x.Volunteers {
		f.there[v.ID] = len(x.dutiesOf(v.ID)) > 0
	}
	for _, a := range noted {
		f.there[a.VolunteerID] = a.There
		if a.There && !a.AsRoster {
			f.hours[a.VolunteerID] = hoursText(a.Served)
		}
	}
	return s.attendancePage(w, r, http.StatusOK, x, f, crew.AttendanceMark(noted), len(noted) > 0, nil)
}

// saveAttendance notes who was there and how long.
func (s *server) saveAttendance(w http.ResponseWriter, r *http.Request) error {
	x, err := s.rosterOf(r)
	if err != nil {
		return err
	}
	f := attendForm{map[int64]bool{}, map[int64]string{}}
	var as []crew.Attendance
	var faults fault.Fields
	for _, v := range x.Volunteers {
		id := strconv.FormatInt(v.ID, 10)
		f.there[v.ID], f.hours[v.ID] = r.PostFormValue("there-"+id) != "", strings.TrimSpace(r.PostFormValue("hours-"+id))
		a := crew.Attendance{VolunteerID: v.ID, There: f.there[v.ID], AsRoster: f.hours[v.ID] == ""}
		duties := len(x.dutiesOf(v.ID)) > 0
		switch served, ok := parseHours(f.hours[v.ID]); {
		case !a.There:
			a.AsRoster = true
			if !duties {
				continue
			}
		case a.AsRoster && !duties:
			faults = append(faults, fault.Field{Name: "hours-" + id, Message: "How long? There is no duty to take the hours from."})
		case a.AsRoster:
		case !ok:
			faults = append(faults, fault.Field{Name: "hours-" + id, Message: "Hours up to 24, as 2.5 or 2:30."})
		default:
			a.Served = served
		}
		as = append(as, a)
	}
	if len(faults) > 0 {
		return s.attendancePage(w, r, http.StatusUnprocessableEntity, x, f, r.PostFormValue("seen"), false, faults)
	}
	if err := s.store.SaveAttendance(r.Context(), x.Night.ID, r.PostFormValue("seen"), as); err != nil {
		return err
	}
	return redirect(w, r, attendancePath(x.Night.ID), views.Flash{Text: "Noted. The hours of the season follow this."})
}

func attendancePath(nightID int64) string { return nightPath(nightID) + "/attendance" }

// parseHours reads "2.5", "2,5" or "2:30".
func parseHours(text string) (time.Duration, bool) {
	if h, m, ok := strings.Cut(text, ":"); ok {
		hours, err1 := strconv.Atoi(h)
		minutes, err2 := strconv.Atoi(m)
		d := time.Duration(hours)*time.Hour + time.Duration(minutes)*time.Minute
		return d, err1 == nil && err2 == nil && hours >= 0 && minutes >= 0 && minutes < 60 && d <= 24*time.Hour
	}
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	return time.Duration(x*60+0.5) * time.Minute, err == nil && x >= 0 && x <= 24
}

// hoursText is a length of time as parseHours reads it.
func hoursText(d time.Duration) string {
	return fmt.Sprintf("%d:%02d", int(d.Hours()), int(d.Minutes())%60)
}

func (s *server) attendancePage(w http.ResponseWriter, r *http.Request, status int, x roster, f attendForm, seen string, noted bool, faults fault.Fields) error {
	m := views.AttendanceModel{
		Over: overline(x.Sheet), Action: attendancePath(x.Night.ID), Back: rosterPath(x.Night.ID), Seen: seen, Noted: noted,
		Early: s.now().Before(x.Night.PublicFrom), Hours: "/crew/hours",
	}
	for _, v := range x.Volunteers {
		id := strconv.FormatInt(v.ID, 10)
		row := views.AttendanceRow{Name: v.Name, Roster: "no duty"}
		total := time.Duration(0)
		for _, d := range x.dutiesOf(v.ID) {
			total += d.Length
		}
		if total > 0 {
			row.Roster = hoursText(total) + " h on the roster"
		}
		row.There = views.Check{Name: "there-" + id, Value: "1", Label: "Was there", Checked: f.there[v.ID]}
		row.Hours = views.Field{Name: "hours-" + id, Label: "Hours, if not as on the roster", Value: f.hours[v.ID], Error: faults.For("hours-" + id), Width: "short"}
		if e := row.Hours.Error; e != "" {
			m.Faults = append(m.Faults, views.FieldError{Name: row.Hours.Name, Label: v.Name, Message: e})
		}
		m.Rows = append(m.Rows, row)
	}
	head := views.Head{Title: "Who was there · " + x.Night.Name, Section: inNights, Crumbs: append(nightCrumbs(x.Sheet), views.Link{Text: "Roster", Href: m.Back})}
	return s.show(w, r, status, head, views.Attendance(m))
}
