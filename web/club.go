package web

import (
	"math"
	"net/http"
	"strconv"
	"strings"
	"unicode/utf8"

	"duskboard/internal/catalog"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// clubForm is the club's settings as typed.
type clubForm struct {
	Name, Contact, Paper, MinAltitude, Spot, Version string
	Inches, Ladders                                  bool
}

func readClubForm(r *http.Request) clubForm {
	v := func(name string) string { return strings.TrimSpace(r.PostFormValue(name)) }
	return clubForm{Name: v("Name"), Contact: v("Contact"), Paper: v("Paper"), MinAltitude: v("MinAltitude"), Spot: v("Spot"),
		Version: v("Version"), Inches: v("Inches") != "", Ladders: v("Ladders") != ""}
}

func clubFormOf(c night.Club) clubForm {
	f := clubForm{Name: c.Name, Contact: c.Contact, Paper: c.Paper, MinAltitude: number(c.MinAltitude, 1), Inches: c.Inches, Ladders: c.Ladders, Version: strconv.FormatInt(c.Version, 10)}
	if !math.IsNaN(c.SpotLongitude) {
		f.Spot = number(c.SpotLongitude, 1)
	}
	return f
}

// parse checks the form over the stored club.
func (f clubForm) parse(c night.Club) (night.Club, fault.Fields) {
	var faults fault.Fields
	bad := func(name, msg string) { faults = append(faults, fault.Field{Name: name, Message: msg}) }
	if n := utf8.RuneCountInString(f.Name); n == 0 || n > 80 {
		bad("Name", "1 to 80 characters.")
	}
	if utf8.RuneCountInString(f.Contact) > 200 {
		bad("Contact", "At most 200 characters.")
	}
	if f.Paper != "a4" && f.Paper != "letter" {
		bad("Paper", "Choose A4 or Letter.")
	}
	alt, ok := optionalNumber(f.MinAltitude, 0, 60)
	if !ok {
		bad("MinAltitude", "A number from 0 to 60 degrees.")
	}
	if math.IsNaN(alt) {
		alt = 0
	}
	spot, ok := optionalNumber(f.Spot, 0, 359.99)
	if !ok {
		bad("Spot", "A number from 0 to 359.9 degrees, or empty.")
	}
	c.Name, c.Contact, c.Paper, c.MinAltitude, c.SpotLongitude, c.Inches, c.Ladders = f.Name, f.Contact, f.Paper, alt, spot, f.Inches, f.Ladders
	if v, err := strconv.ParseInt(f.Version, 10, 64); err == nil {
		c.Version = v
	}
	return c, faults
}

var clubLabels = map[string]string{"Name": "Name", "Contact": "Contact on the night", "Paper": "Paper", "MinAltitude": "Least altitude", "Spot": "Red spot"}

func (f clubForm) view(faults fault.Fields) views.ClubModel {
	m := views.ClubModel{Version: f.Version, Faults: faultList(faults, clubLabels)}
	m.Name = views.Field{Name: "Name", Label: "Name of the club", Value: f.Name, Error: faults.For("Name"), Width: "mid", Required: true}
	m.Contact = views.Field{Name: "Contact", Label: clubLabels["Contact"], Hint: "One telephone number or place that the crew can turn to. Shown to the crew, never to guests.", Value: f.Contact, Error: faults.For("Contact"), Width: "mid"}
	m.Paper = views.Choice{Name: "Paper", Label: "Paper", Value: f.Paper, Error: faults.For("Paper"), Width: "short", Options: []views.Option{{Value: "a4", Text: "A4"}, {Value: "letter", Text: "Letter"}}}
	m.MinAltitude = views.Field{Name: "MinAltitude", Label: clubLabels["MinAltitude"], Hint: "Nothing is shown lower. Each kind of target has a least altitude of its own; the higher of the two counts.", Unit: "degrees", Value: f.MinAltitude, Error: faults.For("MinAltitude"), Width: "short", Mode: "decimal"}
	m.Spot = views.Field{Name: "Spot", Label: "Jupiter's red spot", Hint: "Longitude in System II at which it was last seen; it drifts. Empty: its passages are not told.", Unit: "degrees", Value: f.Spot, Error: faults.For("Spot"), Width: "short", Mode: "decimal"}
	m.Ticks = views.Checks{Label: "Habits", Items: []views.Check{
		{Name: "Inches", Label: "Lengths are typed in inches", Checked: f.Inches},
		{Name: "Ladders", Label: "Guests may use ladders", Hint: "Only where the site allows them too, with a volunteer holding; local rules come first.", Checked: f.Ladders},
	}}
	return m
}

// showClub is the page of settings.
func (s *server) showClub(w http.ResponseWriter, r *http.Request) error {
	c, err := s.store.Club(r.Context())
	if err != nil {
		return err
	}
	return s.clubPage(w, r, http.StatusOK, clubFormOf(c).view(nil))
}

func (s *server) clubPage(w http.ResponseWriter, r *http.Request, status int, m views.ClubModel) error {
	return s.show(w, r, status, views.Head{Title: "Settings"}, views.Club(m))
}

// updateClub saves the settings.
func (s *server) updateClub(w http.ResponseWriter, r *http.Request) error {
	stored, err := s.store.Club(r.Context())
	if err != nil {
		return err
	}
	f := readClubForm(r)
	c, faults := f.parse(stored)
	if len(faults) > 0 {
		return s.clubPage(w, r, http.StatusUnprocessableEntity, f.view(faults))
	}
	if err := s.store.SaveClub(r.Context(), &c); err != nil {
		if fault.KindOf(err) != fault.Conflict {
			return err
		}
		m := f.view(nil)
		m.Version, m.Stale = strconv.FormatInt(stored.Version, 10), true
		return s.clubPage(w, r, http.StatusConflict, m)
	}
	return redirect(w, r, "/club", views.Flash{Text: "The settings are saved."})
}

// showAbout says how exact the numbers are, what to be careful about, and whose
// data and fonts the program carries.
func (s *server) showAbout(w http.ResponseWriter, r *http.Request) error {
	return s.show(w, r, http.StatusOK, views.Head{Title: "About"}, views.About(catalog.Notice()))
}
