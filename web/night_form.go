package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// nightForm is a night as typed.
type nightForm struct {
	Name, Date, Site   string
	From, To           string
	FromWhich, ToWhich string // which of two, on the night the clocks are set back
	Guests, Audience   string
	Block, Seeing      string
	Notes, Version     string
	askedFrom, askedTo []time.Time // the two instants of a clock time that occurs twice
	zone               *time.Location
}

func readNightForm(r *http.Request) nightForm {
	v := func(name string) string { return strings.TrimSpace(r.PostFormValue(name)) }
	return nightForm{
		Name: v("Name"), Date: v("Date"), Site: v("Site"), From: v("From"), To: v("To"),
		FromWhich: v("FromWhich"), ToWhich: v("ToWhich"), Guests: v("Guests"), Audience: v("Audience"),
		Block: v("Block"), Seeing: v("Seeing"), Notes: strings.ReplaceAll(v("Notes"), "\r\n", "\n"), Version: v("Version"),
	}
}

// nightFormOf is the form of a stored night; zone is its site's.
func nightFormOf(n night.Night, zone *time.Location) nightForm {
	f := nightForm{
		Name: n.Name, Date: n.Date.String(), Site: strconv.FormatInt(n.SiteID, 10),
		From: clock(clockOf(n.PublicFrom, zone)), To: clock(clockOf(n.PublicTo(), zone)),
		FromWhich: whichOf(n.Date, n.PublicFrom, zone), ToWhich: whichOf(n.Date, n.PublicTo(), zone),
		Guests: strconv.Itoa(n.Guests), Audience: string(n.Audience), Block: strconv.Itoa(int(n.Block.Minutes())),
		Notes: n.Notes, Version: strconv.FormatInt(n.Version, 10), zone: zone,
	}
	if n.Seeing > 0 {
		f.Seeing = number(n.Seeing, 1)
	}
	f.ask(n.Date)
	return f
}

// ask keeps the two instants of clock times that occur twice, for the question.
func (f *nightForm) ask(evening sky.Date) {
	f.askedFrom = resolve(evening, f.From, f.FromWhich, f.zone).twice
	f.askedTo = resolve(evening, f.To, f.ToWhich, f.zone).twice
}

// longestPublic is more than any night can offer and less than a slip makes.
const longestPublic = 14 * time.Hour

// parse puts what was typed over n. The hours need the site's zone, so they are
// judged once date and site are sound.
func (f *nightForm) parse(n night.Night, sites []night.Site) (night.Night, fault.Fields) {
	var faults fault.Fields
	add := func(name, format string, args ...any) {
		faults = append(faults, fault.Field{Name: name, Message: first(fmt.Sprintf(format, args...))})
	}
	var err error
	if n.Date, err = sky.ParseDate(f.Date); err != nil {
		add("Date", "choose the date of the evening: %v.", err)
	}
	f.zone = nil
	for _, s := range sites {
		if strconv.FormatInt(s.ID, 10) == f.Site && (!s.Retired || s.ID == n.SiteID) {
			n.SiteID = s.ID
			f.zone, err = s.Location()
			if err != nil {
				add("Site", "the time zone %q of %s is not known.", s.Zone, s.Name)
			}
		}
	}
	if f.zone == nil && faults.For("Site") == "" {
		add("Site", "choose the site.")
	}
	if f.zone != nil && faults.For("Date") == "" {
		n.PublicFrom, n.Public = f.hours(n.Date, add)
	} else {
		for name, v := range map[string]string{"From": f.From, "To": f.To} {
			if _, err := parseClock(v); err != nil {
				add(name, "%v.", err)
			}
		}
	}

	n.Guests = wholeNumber(f.Guests, 0, 20000, func() { add("Guests", "a whole number of guests, 0 to 20000.") })
	n.Audience = night.Audience(f.Audience)
	if wordFor(audienceWords, n.Audience) == f.Audience {
		add("Audience", "choose one from the list.")
	}
	block := wholeNumber(f.Block, 10, 30, func() {})
	n.Block = time.Duration(block) * time.Minute
	if block != 10 && block != 15 && block != 20 && block != 30 {
		add("Block", "choose 10, 15, 20 or 30 minutes.")
	}
	n.Seeing = 0
	if f.Seeing != "" {
		n.Seeing, err = kit.ParseNumber(f.Seeing)
		if err != nil || n.Seeing < 0.3 || n.Seeing > 10 {
			add("Seeing", "0.3 to 10 arcseconds; empty when unknown.")
		}
	}
	if n.Name = f.Name; n.Name == "" {
		n.Name = nightName(n.Audience)
	}
	if utf8.RuneCountInString(n.Name) > 80 {
		add("Name", "at most 80 letters.")
	}
	if utf8.RuneCountInString(f.Notes) > 4000 {
		add("Notes", "at most 4000 letters.")
	}
	n.Notes = f.Notes
	return n, faults
}

// hours turns the two clock times into an instant and a true length, which on
// the night the clocks change is not the difference of the two.
func (f *nightForm) hours(evening sky.Date, add func(name, format string, args ...any)) (time.Time, time.Duration) {
	from, to := resolve(evening, f.From, f.FromWhich, f.zone), resolve(evening, f.To, f.ToWhich, f.zone)
	f.askedFrom, f.askedTo = from.twice, to.twice
	if from.fault != "" {
		add("From", "%s", from.fault)
	}
	if to.fault != "" {
		add("To", "%s", to.fault)
	}
	if from.fault != "" || to.fault != "" {
		return time.Time{}, 0
	}
	length := to.at.Sub(from.at)
	switch {
	case length <= 0:
		add("To", "the end must come after the beginning. A night runs from noon to noon; times before noon are those of the next morning.")
	case length < 15*time.Minute:
		add("To", "at least 15 minutes after the beginning.")
	case length > longestPublic:
		add("To", "at most 14 hours after the beginning.")
	}
	return from.at, length
}

func wholeNumber(s string, low, high int, fault func()) int {
	n, err := strconv.Atoi(s)
	if err != nil || n < low || n > high {
		fault()
		return 0
	}
	return n
}

// nightName is the name of a night that was given none.
func nightName(a night.Audience) string {
	switch a {
	case night.School:
		return "Night for a school class"
	case night.Adults:
		return "Night for adults"
	case night.Beginners:
		return "Beginners' night"
	}
	return "Night for families"
}

var nightLabels = map[string]string{
	"Date": "Date of the evening", "Site": "Site", "From": "Gate opens", "To": "Public hours end", "Guests": "Expected guests",
	"Audience": "For whom", "Block": "Time step of the plan", "Seeing": "Seeing", "Name": "Name", "Notes": "Notes",
}

// view is the form as typed, with its faults.
func (f nightForm) view(faults fault.Fields, sites []night.Site) views.NightForm {
	m := views.NightForm{
		Version: f.Version, Faults: labelled(faults, nightLabels),
		Date:      views.Field{Name: "Date", Label: "Date of the evening", Type: "date", Value: f.Date, Error: faults.For("Date"), Required: true, Width: "mid"},
		Site:      views.Choice{Name: "Site", Label: "Site", Value: f.Site, Error: faults.For("Site"), Width: "mid"},
		From:      views.Field{Name: "From", Label: "Gate opens", Value: f.From, Error: faults.For("From"), Hint: "On the site's clock: 20:30 or 8:30 pm.", Width: "mid", Required: true},
		To:        views.Field{Name: "To", Label: "Public hours end", Value: f.To, Error: faults.For("To"), Hint: "A time before noon is one of the next morning.", Width: "mid", Required: true},
		FromWhich: f.question("FromWhich", f.From, f.FromWhich, f.askedFrom), ToWhich: f.question("ToWhich", f.To, f.ToWhich, f.askedTo),
		Guests:   views.Field{Name: "Guests", Label: "Expected guests", Value: f.Guests, Error: faults.For("Guests"), Mode: "numeric", Width: "short", Required: true},
		Audience: views.Choice{Name: "Audience", Label: "For whom", Value: f.Audience, Error: faults.For("Audience"), Options: audienceWords, Width: "short"},
		Block: views.Choice{Name: "Block", Label: "Time step of the plan", Value: f.Block, Error: faults.For("Block"), Width: "short",
			Options: []views.Option{{Value: "10", Text: "10 minutes"}, {Value: "15", Text: "15 minutes"}, {Value: "20", Text: "20 minutes"}, {Value: "30", Text: "30 minutes"}}},
		Name:   views.Field{Name: "Name", Label: "Name", Value: f.Name, Error: faults.For("Name"), Hint: "Left empty, it is named after its guests.", Width: "mid"},
		Seeing: views.Field{Name: "Seeing", Label: "Expected seeing", Unit: "arcseconds", Value: f.Seeing, Error: faults.For("Seeing"), Hint: "2 is steady air, 4 is poor. Leave it empty when unknown.", Mode: "decimal", Width: "mid"},
		Notes:  views.Field{Name: "Notes", Label: "Notes", Value: f.Notes, Error: faults.For("Notes"), Rows: 3},
	}
	if f.Site == "" {
		m.Site.Options = append(m.Site.Options, views.Option{Text: "Choose the site"})
	}
	for _, s := range sites {
		if id := strconv.FormatInt(s.ID, 10); !s.Retired || id == f.Site {
			m.Site.Options = append(m.Site.Options, views.Option{Value: id, Text: s.Name})
		}
	}
	return m
}

// question asks which of two is meant; nil when the time occurs once.
func (f nightForm) question(name, typed, answer string, twice []time.Time) *views.Choice {
	if len(twice) != 2 {
		return nil
	}
	option := func(value, text string, t time.Time) views.Option {
		zone, offset := t.In(f.zone).Zone()
		return views.Option{Value: value, Text: text, Hint: zone + ", " + utcOffset(offset)}
	}
	c := &views.Choice{Name: name, Label: typed + " occurs twice that night", Value: answer,
		Options: []views.Option{option(firstTime, "The first", twice[0]), option(secondTime, "The second, after the clocks are set back", twice[1])}}
	return c
}

// utcOffset prints seconds east of UTC as "UTC+2" or "UTC+5:30".
func utcOffset(seconds int) string {
	minutes := seconds / 60
	sign := "+"
	if minutes < 0 {
		sign, minutes = "-", -minutes
	}
	s := "UTC" + sign + strconv.Itoa(minutes/60)
	if minutes%60 != 0 {
		s += fmt.Sprintf(":%02d", minutes%60)
	}
	return s
}
