package crew

import (
	"fmt"
	"strings"
	"time"
)

// Helped is the role of somebody who was there and helped without a duty. It is
// not offered anywhere: it only counts hours.
const Helped Role = "helped"

// Attendance is what was noted after a night about one person.
type Attendance struct {
	VolunteerID int64
	There       bool
	Served      time.Duration // with AsRoster it does not count
	AsRoster    bool          // served as the roster says
}

// Attended is an attendance with the night that it is of.
type Attended struct {
	Attendance
	NightID     int64
	Night, Date string // its name; its evening as YYYY-MM-DD
	Name        string // of the volunteer
}

// Correct turns the duties of rosters into hours served: whoever was not there
// served none, hours that were noted replace those of the roster (shared out
// over the duties by their length), and whoever helped without a duty has them
// under [Helped]. Duties of which nothing was noted count as they are.
func Correct(rostered []Served, noted []Attended) []Served {
	type turn struct{ night, who int64 }
	said := map[turn]Attended{}
	for _, a := range noted {
		said[turn{a.NightID, a.VolunteerID}] = a
	}
	sum := map[turn]time.Duration{}
	for _, d := range rostered {
		sum[turn{d.NightID, d.VolunteerID}] += d.Length
	}
	var out []Served
	for _, d := range rostered {
		key := turn{d.NightID, d.VolunteerID}
		a, ok := said[key]
		switch {
		case !ok || a.There && a.AsRoster:
		case !a.There:
			continue
		default:
			d.Length = time.Duration(float64(d.Length) / float64(sum[key]) * float64(a.Served))
		}
		if d.Length > 0 {
			out = append(out, d)
		}
	}
	for _, a := range noted {
		if a.There && !a.AsRoster && a.Served > 0 && sum[turn{a.NightID, a.VolunteerID}] == 0 {
			out = append(out, Served{NightID: a.NightID, Night: a.Night, Date: a.Date, VolunteerID: a.VolunteerID, Name: a.Name, Role: Helped, Length: a.Served})
		}
	}
	return out
}

// AttendanceMark tells two states of a night's attendance apart.
func AttendanceMark(as []Attendance) string {
	var b strings.Builder
	for _, a := range as {
		fmt.Fprintf(&b, "%d:%t:%t:%.0f ", a.VolunteerID, a.There, a.AsRoster, a.Served.Minutes())
	}
	return strings.TrimSpace(b.String())
}
