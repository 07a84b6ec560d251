package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// happening is what a coordinator says has happened, as typed.
type happening struct {
	From                   string   // clock of the site, or "" for now
	CloudFrom, CloudTo     string   // azimuths, degrees; both empty: no cloud
	CloudBelow             string   // altitude, degrees
	Sky                    []string // boxes of the round sky
	Out, Gone              []string
	Missing                []string // eyepieces
	Amplifiers             []string // missing Barlow lenses, reducers, correctors
	Diagonals, Filters     []string // missing
	Seeing, Guests, Factor string
}

func parseHappening(f url.Values) happening {
	get := func(name string) string { return strings.TrimSpace(f.Get(name)) }
	return happening{
		From: get("from"), CloudFrom: get("cloud-from"), CloudTo: get("cloud-to"), CloudBelow: get("cloud-below"),
		Sky: f["sky"], Out: f["out"], Gone: f["gone"], Missing: f["missing"], Amplifiers: f["no-amplifier"], Diagonals: f["no-diagonal"], Filters: f["no-filter"], Seeing: get("seeing"), Guests: get("guests"),
	}
}

// happenings turns what was typed into what the domain asks for, and the
// instant from which the rest is planned again.
func (s *server) happenings(ctx context.Context, sh *night.Sheet, h happening) (from time.Time, all []lineup.Happening, faults fault.Fields) {
	bad := func(name, format string, args ...any) {
		faults = append(faults, fault.Field{Name: name, Message: fmt.Sprintf(format, args...)})
	}
	from = s.now()
	if h.From != "" {
		if l := resolve(sh.Night.Date, h.From, firstTime, sh.Zone); l.fault != "" {
			bad("from", "%s", l.fault)
		} else {
			from = l.at
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
		c := lineup.Sector{AltTo: number("cloud-below", h.CloudBelow, 1, 90, "an altitude")}
		c.AzFrom = number("cloud-from", h.CloudFrom, 0, 360, "an azimuth")
		c.AzTo = number("cloud-to", h.CloudTo, 0, 360, "an azimuth")
		if (h.CloudFrom == "") != (h.CloudTo == "") {
			bad("cloud-to", "Give both azimuths; none means all round.")
		}
		all = append(all, lineup.Happening{Kind: lineup.Cloud, Sector: c})
	}
	for _, key := range h.Sky {
		sector, ok := skyCell(key)
		if !ok {
			bad("sky", "%q is no part of the drawn sky.", key)
			continue
		}
		all = append(all, lineup.Happening{Kind: lineup.Cloud, Sector: sector})
	}
	for _, id := range idsIn(h.Out) {
		all = append(all, lineup.Happening{Kind: lineup.InstrumentOut, InstrumentID: id})
	}
	for _, id := range idsIn(h.Missing) {
		all = append(all, lineup.Happening{Kind: lineup.EyepieceMissing, EyepieceID: id})
	}
	for _, x := range []struct {
		kind  lineup.HappeningKind
		typed []string
	}{{lineup.AmplifierGone, h.Amplifiers}, {lineup.DiagonalMissing, h.Diagonals}, {lineup.FilterMissing, h.Filters}} {
		for _, id := range idsIn(x.typed) {
			all = append(all, lineup.Happening{Kind: x.kind, GearID: id})
		}
	}
	if v := number("seeing", h.Seeing, 0.3, 15, "arcseconds"); v > 0 {
		all = append(all, lineup.Happening{Kind: lineup.SeeingWorse, Seeing: v})
	}
	if v := number("guests", h.Guests, 1, 20000, "a number of guests"); v > 0 {
		all = append(all, lineup.Happening{Kind: lineup.MoreGuests, Guests: int(v)})
	}
	gone, err := s.goneFrom(ctx, sh, idsIn(h.Gone), from)
	if err != nil {
		bad("gone", "The crew without these cannot be worked out: %s.", err)
	}
	all = append(all, gone...)
	for _, x := range all {
		if err := x.Check(sh.Input); err != nil {
			bad("from", "%s.", capital(err.Error()))
		}
	}
	return from, all, faults
}

// idsIn reads the ids of ticked boxes; what is none is left out.
func idsIn(values []string) []int64 {
	var out []int64
	for _, v := range values {
		if id, err := strconv.ParseInt(v, 10, 64); err == nil {
			out = append(out, id)
		}
	}
	return out
}

// goneFrom is where instruments lack an operator once volunteers have left:
// those that nobody else can run.
func (s *server) goneFrom(ctx context.Context, sh *night.Sheet, gone []int64, from time.Time) ([]lineup.Happening, error) {
	if len(gone) == 0 {
		return nil, nil
	}
	p := sh.Plan
	p.Availability = append([]crew.Availability(nil), sh.Availability...)
	for _, id := range gone {
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
	cat, err := s.catalogue(ctx)
	if err != nil {
		return nil, err
	}
	without, err := night.Build(p, cat)
	if err != nil {
		return nil, err
	}
	var out []lineup.Happening
	for _, inst := range sh.Kit.Instruments {
		for _, sp := range without.Input.Away[inst.ID] {
			if sp.To.After(from) {
				out = append(out, lineup.Happening{Kind: lineup.OperatorGone, InstrumentID: inst.ID, From: sp.From, To: sp.To})
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
		from, all, faults := s.happenings(r.Context(), sh, h)
		if len(faults) > 0 {
			status = http.StatusUnprocessableEntity
			m.keepFaults(faults)
		} else if err := s.fillReplan(r.Context(), sh, from, all, &m); err != nil {
			return err
		}
	}
	return s.show(w, r, status, views.Head{Title: "Re-plan · " + sh.Night.Name, Section: inNights, Crumbs: lineUpCrumbs(sh)}, views.Replan(m.ReplanModel))
}

// fillReplan works out the rest of the night and says what would change.
func (s *server) fillReplan(ctx context.Context, sh *night.Sheet, from time.Time, all []lineup.Happening, m *replanForm) error {
	ctx, cancel := context.WithTimeout(ctx, proposeTime)
	defer cancel()
	fits := sh.Fits()
	res, err := lineup.Replan(ctx, sh.Input, fits, sh.Showings, from, all)
	if err != nil {
		return err
	}
	before := sh.Input.CrowdingOf(fits, sh.Showings)
	a := &views.ReplanAnswer{From: siteClock(sh, res.From), Proposals: res.Crowding.Proposals}
	a.Lead = fmt.Sprintf("%.0f good looks over the whole night; as planned it was %.0f.", res.Score, sh.Input.Worth(fits, sh.Showings))
	a.Flow = fmt.Sprintf("Looks for each guest %.1f (planned %.1f), longest line %s (planned %s).", res.Crowding.PerGuest, before.PerGuest, longestLine(res.Crowding), longestLine(before))
	for _, c := range res.Changes {
		a.Differs = append(a.Differs, c.Words)
	}
	for _, l := range res.Left {
		a.Left = append(a.Left, fmt.Sprintf("%s: %s.", targetName(sh, l.TargetID), strings.TrimSuffix(l.Reason, ".")))
	}
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
	from, all, faults := s.happenings(r.Context(), sh, parseHappening(r.PostForm))
	if len(faults) > 0 {
		return fault.New(fault.Invalid, "%s", faults[0].Message)
	}
	ctx, cancel := context.WithTimeout(r.Context(), proposeTime)
	defer cancel()
	res, err := lineup.Replan(ctx, sh.Input, sh.Fits(), sh.Showings, from, all)
	if err != nil {
		return err
	}
	return s.revise(w, r, sh, revision{
		shows: res.Showings, forbidden: sh.Forbidden, at: -1, label: "re-plan from " + siteClock(sh, res.From),
		done: fmt.Sprintf("Planned again from %s.", siteClock(sh, res.From)),
	})
}
