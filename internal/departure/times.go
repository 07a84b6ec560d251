package departure

import (
	"fmt"
	"strings"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/kit"
	"duskboard/internal/sky"
)

// Minutes that the kit does not say; common practice.
const (
	briefingTime  = 15 * time.Minute
	opticsTime    = 10 * time.Minute // aligning a mirror
	goToTime      = 10 * time.Minute // two bright stars
	polarTime     = 15 * time.Minute // an equatorial mount on the pole
	unloadTime    = 15 * time.Minute
	unloadMore    = 5 * time.Minute // for each further instrument
	loadTime      = 20 * time.Minute
	unknownDrive  = 30 * time.Minute
	helpersArrive = 30 * time.Minute // before the gate, without anything to set up
)

// roleArrives is how long before the gate a role is on the field.
var roleArrives = map[crew.Role]time.Duration{crew.SetUp: 2 * time.Hour, crew.Parking: time.Hour, crew.Safety: time.Hour}

// times counts somebody's evening back from the gate.
func (b *builder) times(p *Person) {
	gate, a := b.sh.Night.PublicFrom, answer(b.sh, p.Volunteer.ID)
	p.Drive, p.DriveKnown = drive(p.Volunteer, a)
	switch {
	case late(a, gate):
		p.Arrive = a.From
		p.say(a.From, "Arrive", "as you said; the gate opened at "+b.clock(gate)+". Headlights off, park facing away")
	case len(p.Brings) > 0:
		b.timesWithGlass(p, gate)
	default:
		p.Arrive = b.helperArrives(p, gate)
		p.say(p.Arrive, "Arrive", b.arriveWords(*p))
		p.say(gate.Add(-briefingTime), "Briefing", "who does what, hands on the ladder and not on the tube, red light, what to do in an emergency")
	}
	p.Leave = p.Arrive.Add(-p.Drive)
	why := fmt.Sprintf("%.0f minutes of driving", p.Drive.Minutes())
	if !p.DriveKnown {
		why += ", assumed: nobody noted how far it is"
	}
	p.say(p.Leave, "Leave home", why)
	if len(p.Items) > 0 {
		p.say(p.Leave.Add(-loadTime), "Load the car", fmt.Sprintf("%d things on your list", len(p.Items)))
	}
	if !late(a, gate) {
		p.say(gate, "The gate opens", "")
	}
	b.sunMoments(p)
	end := b.sh.Night.PublicTo()
	if !a.To.IsZero() && a.To.Before(end) {
		p.LeavesEarly = a.To
		p.say(a.To, "You leave, as you said", "hand over what you run")
	} else {
		p.say(end, "The last look; pack down", "caps on dry glass only; pack wet things open and dry them at home")
	}
	p.sortTimes()
}

func late(a crew.Availability, gate time.Time) bool { return a.From.After(gate) }

func drive(v crew.Volunteer, a crew.Availability) (time.Duration, bool) {
	switch {
	case a.DriveMinutes > 0:
		return time.Duration(a.DriveMinutes) * time.Minute, true
	case v.DriveMinutes > 0:
		return time.Duration(v.DriveMinutes) * time.Minute, true
	}
	return unknownDrive, false
}

// timesWithGlass counts back for somebody who brings instruments: the earlier
// of what the work takes and when the glass must be outdoors.
func (b *builder) timesWithGlass(p *Person, gate time.Time) {
	unload := unloadTime + time.Duration(len(p.Brings)-1)*unloadMore
	brief := gate.Add(-briefingTime)
	stars := b.firstStars()
	work := time.Duration(0)
	type job struct {
		what, why string
		takes     time.Duration
	}
	var jobs []job
	for _, i := range p.Brings {
		setUp := setUpTime(i)
		jobs = append(jobs, job{"Set up " + i.Name, fmt.Sprintf("%.0f minutes", setUp.Minutes()), setUp})
		if i.NeedsCollimation {
			jobs = append(jobs, job{"Align the optics of " + i.Name, fmt.Sprintf("%.0f minutes, in daylight if you can", opticsTime.Minutes()), opticsTime})
		}
	}
	var after []Moment // alignments that have to wait for stars
	for _, i := range p.Brings {
		takes, how := mountAlignment(i)
		if takes == 0 {
			continue
		}
		if stars.IsZero() || stars.After(brief.Add(-takes)) {
			at, why := stars, how+"; no bright star shows before"
			if stars.IsZero() {
				at, why = gate, how+"; bright stars do not come out this night, so use the Moon or a planet"
			}
			after = append(after, Moment{at, "Align the mount of " + i.Name, why})
			continue
		}
		jobs = append(jobs, job{"Align the mount of " + i.Name, how, takes})
	}
	for _, j := range jobs {
		work += j.takes
	}

	byWork := brief.Add(-work - unload)
	out := b.sh.PlannedPutOut(p.Brings[0])
	for _, i := range p.Brings {
		if t := b.sh.PlannedPutOut(i); t.Before(out) {
			out = t
		}
	}
	byGlass := out.Add(-unload)
	p.Arrive = byWork
	if byGlass.Before(byWork) {
		p.Arrive = byGlass
	}
	p.say(p.Arrive, "Arrive and unload", fmt.Sprintf("%.0f minutes; cars stand facing away, nobody unloads after dark", unload.Minutes()))
	p.say(p.Arrive.Add(unload), "Glass outdoors: "+names(p.Brings), b.glassWords(p))
	t := p.Arrive.Add(unload)
	for _, j := range jobs {
		if strings.HasPrefix(j.what, "Align the mount") && t.Before(stars) {
			t = stars
		}
		p.say(t, j.what, j.why)
		t = t.Add(j.takes)
	}
	p.say(brief, "Briefing", "who does what, hands on the ladder and not on the tube, red light, what to do in an emergency")
	p.Times = append(p.Times, after...)
}

// leastSetUp is what standing an instrument on the ground takes at least.
const leastSetUp = 5 * time.Minute

// setUpTime is the kit's set-up time without aligning the mount, which the kit
// counts in and which may have to wait for stars.
func setUpTime(i kit.Instrument) time.Duration {
	align, _ := mountAlignment(i)
	return max(time.Duration(i.SetupMinutes)*time.Minute-align, leastSetUp)
}

// mountAlignment is how long a mount takes to align on the sky, 0 for one that
// is pushed by hand, and how it is done.
func mountAlignment(i kit.Instrument) (time.Duration, string) {
	switch {
	case i.Mount == kit.GermanEquatorial || i.Mount == kit.ForkWedge:
		return polarTime, fmt.Sprintf("on the pole, %.0f minutes", polarTime.Minutes())
	case i.GoTo:
		return goToTime, fmt.Sprintf("on two bright stars, %.0f minutes", goToTime.Minutes())
	}
	return 0, ""
}

// firstStars is when the first bright stars can be seen: civil dusk. It is zero
// on a night on which the Sun does not sink that far, and the beginning of the
// night when it is dark all day.
func (b *builder) firstStars() time.Time {
	switch e := b.sh.Twilights.CivilDusk; e.State {
	case sky.Happens:
		return e.Time
	case sky.AlwaysBelow:
		return b.sh.Sky.From
	}
	return time.Time{}
}

// glassWords says why the glass goes out when it does, and what to do at home
// when that is not early enough.
func (b *builder) glassWords(p *Person) string {
	var parts []string
	for _, i := range p.Brings {
		r, ok := b.sh.Forecasts[i.ID]
		if !ok {
			continue
		}
		by := r.Cool.HighPower.PutOutBy
		if by.Possible && by.Likely.Before(r.PutOut.Add(-10*time.Minute)) {
			parts = append(parts, fmt.Sprintf("%s would be ready for %.0f× at the opening only if it stood outdoors from %s", i.Name, r.Cool.HighPower.Magnification, b.clock(by.Likely)))
			if by.Likely.Before(p.Arrive) {
				p.say(by.Likely, "At home, put "+i.Name+" outdoors", "capped, in the shade, never pointed near the Sun; drive with the heating low")
			}
		}
	}
	if len(parts) > 0 {
		return strings.Join(parts, "; ")
	}
	return "so that it is as cold as the air when the gate opens; caps on"
}

// helperArrives is when somebody who sets nothing up is on the field.
func (b *builder) helperArrives(p *Person, gate time.Time) time.Time {
	lead := helpersArrive
	at := gate.Add(-lead)
	roles := p.Volunteer.Roles
	for _, d := range b.sh.Duties {
		if d.VolunteerID != p.Volunteer.ID {
			continue
		}
		roles = nil // the roster says it
		if l := max(roleArrives[d.Role], helpersArrive); gate.Add(-l).Before(at) && !d.From.After(gate) {
			at = gate.Add(-l)
		}
		if t := d.From.Add(-briefingTime); t.Before(at) {
			at = t
		}
	}
	for _, r := range roles {
		if t := gate.Add(-roleArrives[r]); roleArrives[r] > 0 && t.Before(at) {
			at = t
		}
	}
	return at
}

func (b *builder) arriveWords(p Person) string {
	if p.Arrive.Before(b.sh.Night.PublicFrom.Add(-time.Hour - time.Minute)) {
		return "to help set up"
	}
	return "before the guests"
}

// sunMoments says from when caps may come off.
func (b *builder) sunMoments(p *Person) {
	set := b.sh.Twilights.Sunset
	if set.State == sky.Happens && p.Arrive.Before(set.Time) {
		p.say(set.Time, "Sunset", "no cap comes off before the Sun is below the real horizon")
	}
}

func (p *Person) say(at time.Time, what, why string) {
	p.Times = append(p.Times, Moment{at, what, why})
}

func names(is []kit.Instrument) string {
	var out []string
	for _, i := range is {
		out = append(out, i.Name)
	}
	return strings.Join(out, ", ")
}

func (b *builder) clock(t time.Time) string { return t.In(b.sh.Zone).Format("15:04") }
