package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// happening is what a coordinator says has happened, as typed.
type happening struct {
	From                   string // clock of the site, or "" for now
	CloudFrom, CloudTo     string // azimuths, degrees; both empty: no cloud
	CloudBelow             string // altitude, degrees
	Out, Gone, Missing     []string
	Seeing, Guests, Factor string
}

func parseHappening(f url.Values) happening {
	get := func(name string) string { return strings.TrimSpace(f.Get(name)) }
	return happening{
		From: get("from"), CloudFrom: get("cloud-from"), CloudTo: get("cloud-to"), CloudBelow: get("cloud-below"),
		Out: f["out"], Gone: f["gone"], Missing: f["missing"], Seeing: get("seeing"), Guests: get("guests"),
	}
}

// request turns what was typed into what the domain asks for.
func (s *server) request(ctx context.Context, sh *night.Sheet, h happening) (lineup.ReplanRequest, fault.Fields) {
	var faults fault.Fields
	bad := func(name, format string, args ...any) {
		faults = append(faults, fault.Field{Name: name, Message: fmt.Sprintf(format, args...)})
	}
	r := lineup.ReplanRequest{From: s.now(), Out: map[int64]string{}}
	if h.From != "" {
		if l := resolve(sh.Night.Date, h.From, firstTime, sh.Zone); l.fault != "" {
			bad("from", "%s", l.fault)
		} else {
			r.From = l.at
		}
	}
	number := func(name, typed string, low, high float64, what string) float64 {
		if typed == "" {
			return 0
		}
		v, err := strconv.ParseFloat(strings.Replace(typed, ",", ".", 1), 64)
		if err != nil || !(v >= low && v <= high) {
			bad(name, "Write %s from %g to %g.", what, low, high)
			return 0
		}
		return v
	}
	if h.CloudFrom != "" || h.CloudTo != "" || h.CloudBelow != "" {
		c := lineup.Sector{Below: 90.1} // a sector without a height reaches the zenith
		if h.CloudBelow != "" {
			c.Below = number("cloud-below", h.CloudBelow, 0, 90, "an altitude")
		}
		c.From = number("cloud-from", h.CloudFrom, 0, 360, "an azimuth")
		c.To = number("cloud-to", h.CloudTo, 0, 360, "an azimuth")
		if (h.CloudFrom == "") != (h.CloudTo == "") {
			bad("cloud-to", "Give both azimuths; none means all round.")
		}
		r.Clouds = append(r.Clouds, c)
	}
	for _, v := range h.Out {
		if id, err := strconv.ParseInt(v, 10, 64); err == nil && sh.Input.Instrument(id) >= 0 {
			r.Out[id] = "it is out"
		}
	}
	for _, v := range h.Missing {
		kind, id, _ := strings.Cut(v, "-")
		if n, err := strconv.ParseInt(id, 10, 64); err == nil && len(kind) == 1 {
			r.Missing = append(r.Missing, lineup.Piece{Kind: lineup.PieceKind(kind[0]), ID: n})
		}
	}
	r.Seeing = number("seeing", h.Seeing, 0.3, 15, "arcseconds")
	r.Guests = int(number("guests", h.Guests, 1, 20000, "a number of guests"))
	if len(h.Gone) > 0 {
		away, err := goneFrom(sh, h.Gone, r.From)
		if err != nil {
			bad("gone", "The crew without these cannot be worked out: %s.", err)
		}
		r.Away = away
	}
	return r, faults
}

// goneFrom is where instruments lack an operator once volunteers have left.
func goneFrom(sh *night.Sheet, gone []string, from time.Time) (map[int64][]lineup.Span, error) {
	p := sh.Plan
	p.Availability = append([]crew.Availability(nil), sh.Availability...)
	for _, v := range gone {
		id, _ := strconv.ParseInt(v, 10, 64)
		found := false
		for i := range p.Availability {
			if a := &p.Availability[i]; a.VolunteerID == id {
				found = true
				if a.To.IsZero() || a.To.After(from) {
					a.To = from
				}
			}
		}
		if !found {
			p.Availability = append(p.Availability, crew.Availability{VolunteerID: id, To: from})
		}
	}
	without, err := night.Build(p, catalog.Default())
	if err != nil {
		return nil, err
	}
	out := map[int64][]lineup.Span{}
	for id, spans := range without.Input.Away {
		for _, sp := range spans {
			if sp.To.After(from) {
				if sp.From.Before(from) {
					sp.From = from
				}
				sp.Reason = "no operator any more"
				out[id] = append(out[id], sp)
			}
		}
	}
	return out, nil
}

// showReplan asks what happened and, once something is said, shows what would
// change; nothing is saved.
func (s *server) showReplan(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	h := parseHappening(r.URL.Query())
	m := s.replanModel(sh, h)
	status := http.StatusOK
	if r.URL.Query().Has("from") {
		req, faults := s.request(r.Context(), sh, h)
		if len(faults) > 0 {
			status = http.StatusUnprocessableEntity
			m.keepFaults(faults)
		} else if err := s.fillReplan(r.Context(), sh, req, &m); err != nil {
			return err
		}
	}
	return s.show(w, r, status, views.Head{Title: "Re-plan · " + sh.Night.Name, Section: inNights, Crumbs: lineUpCrumbs(sh)}, views.Replan(m.ReplanModel))
}

// fillReplan works out the rest of the night and says what would change.
func (s *server) fillReplan(ctx context.Context, sh *night.Sheet, req lineup.ReplanRequest, m *replanForm) error {
	ctx, cancel := context.WithTimeout(ctx, proposeTime)
	defer cancel()
	fits := sh.Fits()
	res, err := lineup.Replan(ctx, sh.Input, fits, sh.Showings, req)
	if err != nil {
		return err
	}
	a := &views.ReplanAnswer{From: siteClock(sh, res.From), Differs: differences(sh, fits, sh.Showings, res.Showings)}
	a.Lead = fmt.Sprintf("From %s: %.0f good looks over the night, against %.0f if nobody changes anything.", a.From, res.Score, res.Unchanged)
	for _, l := range res.Lost {
		a.Lost = append(a.Lost, fmt.Sprintf("%s in %s, from %s: %s.", targetName(sh, l.Showing.TargetID), sh.Input.InstrumentName(l.Showing.InstrumentID), siteClock(sh, l.From), strings.TrimSuffix(l.Reason, ".")))
	}
	for _, l := range res.Left {
		a.Left = append(a.Left, fmt.Sprintf("%s: %s.", targetName(sh, l.TargetID), strings.TrimSuffix(l.Reason, ".")))
	}
	before := sh.Input.CrowdingOf(fits, sh.Showings)
	a.Flow = fmt.Sprintf("Looks for each guest %.1f (planned %.1f), longest wait %s (planned %s).", res.Crowding.PerGuest, before.PerGuest, minutes(res.Crowding.LongestWait), minutes(before.LongestWait))
	a.Proposals = res.Crowding.Proposals
	m.Answer = a
	return nil
}

// takeReplan computes the same again and saves it. Nothing random is in it, so
// what is taken is what was shown; the version refuses it when the line-up has
// changed since.
func (s *server) takeReplan(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return fault.Wrap(fault.Invalid, err, "This form could not be read.")
	}
	req, faults := s.request(r.Context(), sh, parseHappening(r.PostForm))
	if len(faults) > 0 {
		return fault.New(fault.Invalid, "%s", faults[0].Message)
	}
	ctx, cancel := context.WithTimeout(r.Context(), proposeTime)
	defer cancel()
	res, err := lineup.Replan(ctx, sh.Input, sh.Fits(), sh.Showings, req)
	if err != nil {
		return err
	}
	return s.revise(w, r, sh, revision{
		shows: res.Showings, forbidden: sh.Forbidden, at: -1, label: "re-plan from " + siteClock(sh, res.From),
		done: fmt.Sprintf("Planned again from %s.", siteClock(sh, res.From)),
	})
}
