package lineup

import (
	"fmt"
	"sort"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// instrument returns the index of an instrument by its id, or -1.
func (in *Input) instrument(id int64) int {
	for i := range in.Kit.Instruments {
		if in.Kit.Instruments[i].ID == id {
			return i
		}
	}
	return -1
}

// target returns the index of a target by its id, or -1.
func (in *Input) target(id string) int {
	for i := range in.Targets {
		if in.Targets[i].ID == id {
			return i
		}
	}
	return -1
}

// uses reports whether the showing is with this train's gear; the diagonal may
// be another one, see through.
func (s Showing) uses(tr optics.Train) bool {
	id := func(set bool, f func() int64) int64 {
		if set {
			return f()
		}
		return 0
	}
	return s.EyepieceID == id(tr.Eyepiece != nil, func() int64 { return tr.Eyepiece.ID }) &&
		s.AmplifierID == id(tr.Amplifier != nil, func() int64 { return tr.Amplifier.ID }) &&
		s.FilterID == id(tr.Filter != nil, func() int64 { return tr.Filter.ID })
}

// through reports whether the showing has this train's diagonal, or does not
// say which it has.
func (s Showing) through(tr optics.Train) bool {
	return s.DiagonalID == 0 || tr.Diagonal != nil && tr.Diagonal.ID == s.DiagonalID
}

// TrainOf returns the train of a showing: its parts looked up in the night's
// kit. It is found also when the train is not among the pruned ones.
func (in *Input) TrainOf(s Showing) (optics.Train, bool) {
	ii := in.instrument(s.InstrumentID)
	if ii < 0 {
		return optics.Train{}, false
	}
	tr := optics.Train{Instrument: in.Kit.Instruments[ii]}
	tr.Eyepiece = part(in.Kit.Eyepieces, s.EyepieceID, func(e kit.Eyepiece) int64 { return e.ID })
	tr.Amplifier = part(in.Kit.Amplifiers, s.AmplifierID, func(a kit.Amplifier) int64 { return a.ID })
	tr.Diagonal = part(in.Kit.Diagonals, s.DiagonalID, func(d kit.Diagonal) int64 { return d.ID })
	tr.Filter = part(in.Kit.Filters, s.FilterID, func(f kit.Filter) int64 { return f.ID })
	return tr, tr.Eyepiece != nil || tr.Instrument.Design == kit.Binoculars
}

func part[T any](all []T, id int64, idOf func(T) int64) *T {
	for i := range all {
		if id != 0 && idOf(all[i]) == id {
			return &all[i]
		}
	}
	return nil
}

// train returns the index of a showing's train among those of its instrument:
// with its own diagonal, else with another one; -1 when the matrix does not
// hold it, see [Matrix.Including].
func (m *Matrix) train(ii int, s Showing) int {
	other := -1
	for r, tr := range m.Trains[ii] {
		switch {
		case !s.uses(tr):
		case s.through(tr):
			return r
		case other < 0:
			other = r
		}
	}
	return other
}

// Conflict is one rule that a line-up breaks, in words.
type Conflict struct {
	Showings []Showing // those concerned
	Words    string
}

// Check names every rule that a line-up breaks: a target in more instruments
// at once than it may be, gear in more places than the club owns, two showings
// at one instrument at once, and showings that the fits veto.
func (in *Input) Check(m *Matrix, shows []Showing) []Conflict {
	m = m.Including(shows...)
	var out []Conflict
	out = append(out, in.overlaps(shows)...)
	out = append(out, in.shared(m, shows)...)
	for _, s := range shows {
		if w := in.vetoOf(m, s); w != "" {
			out = append(out, Conflict{[]Showing{s}, w})
		}
	}
	return out
}

func (in *Input) overlaps(shows []Showing) []Conflict {
	var out []Conflict
	for i, a := range shows {
		for _, b := range shows[i+1:] {
			if a.InstrumentID == b.InstrumentID && a.From.Before(b.To()) && b.From.Before(a.To()) {
				out = append(out, Conflict{[]Showing{a, b}, fmt.Sprintf("%s has two showings at once at %s.", in.instrumentName(a.InstrumentID), in.clock(later(a, b)))})
			}
		}
	}
	return out
}

func later(a, b Showing) Showing {
	if a.From.After(b.From) {
		return a
	}
	return b
}

func (in *Input) clock(s Showing) string { return s.From.In(in.Sky.Zone).Format("15:04") }

func (in *Input) instrumentName(id int64) string {
	if i := in.instrument(id); i >= 0 {
		return in.Kit.Instruments[i].Name
	}
	return "an instrument that is not here"
}

// shared checks what exists once or a few times.
func (in *Input) shared(m *Matrix, shows []Showing) []Conflict {
	type thing struct {
		kind byte
		id   int64
	}
	var out []Conflict
	said := map[string]bool{}
	for _, slot := range m.Blocks {
		users := map[thing][]Showing{}
		for _, s := range shows {
			if !s.From.Before(slot.To) || !slot.From.Before(s.To()) {
				continue
			}
			if ti := in.target(s.TargetID); ti >= 0 {
				users[thing{'t', int64(ti)}] = append(users[thing{'t', int64(ti)}], s)
			}
			for _, g := range []thing{{'e', s.EyepieceID}, {'a', s.AmplifierID}, {'d', in.looseDiagonal(s)}, {'f', s.FilterID}} {
				if g.id != 0 {
					users[g] = append(users[g], s)
				}
			}
		}
		for g, ss := range users {
			limit, name := in.supply(g.kind, g.id)
			if len(ss) <= limit {
				continue
			}
			words := in.sharedWords(g.kind, name, limit, ss, slot)
			if !said[name] {
				said[name] = true
				out = append(out, Conflict{ss, words})
			}
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Words < out[j].Words })
	return out
}

func (in *Input) sharedWords(kind byte, name string, limit int, ss []Showing, slot Slot) string {
	var names string
	for i, s := range ss {
		if i > 0 {
			names += " and "
		}
		names += in.instrumentName(s.InstrumentID)
	}
	at := slot.From.In(in.Sky.Zone).Format("15:04")
	if kind == 't' {
		return fmt.Sprintf("%s is in %s at %s; at most %s at once.", name, names, at, plural(limit, "instrument"))
	}
	return fmt.Sprintf("%s is needed in %s at %s; the club has %d.", name, names, at, limit)
}

func (in *Input) supply(kind byte, id int64) (int, string) {
	switch kind {
	case 't':
		t := in.Targets[id]
		return showAtOnce(t), t.Name
	case 'e':
		if e := part(in.Kit.Eyepieces, id, func(e kit.Eyepiece) int64 { return e.ID }); e != nil {
			return max(e.Count, 1), e.Name
		}
	case 'a':
		if e := part(in.Kit.Amplifiers, id, func(e kit.Amplifier) int64 { return e.ID }); e != nil {
			return max(e.Count, 1), e.Name
		}
	case 'd':
		if e := part(in.Kit.Diagonals, id, func(e kit.Diagonal) int64 { return e.ID }); e != nil {
			return max(e.Count, 1), e.Name
		}
	case 'f':
		if e := part(in.Kit.Filters, id, func(e kit.Filter) int64 { return e.ID }); e != nil {
			return max(e.Count, 1), e.Name
		}
	}
	return 1, "a piece that is not part of the night"
}

// vetoOf returns the sentence of the first veto within a showing, or "".
func (in *Input) vetoOf(m *Matrix, s Showing) string {
	ii, ti := in.instrument(s.InstrumentID), in.target(s.TargetID)
	if ii < 0 || ti < 0 {
		return "A showing names an instrument or a target that is not part of the night."
	}
	from, to := m.span(s)
	if from >= to {
		return fmt.Sprintf("The showing of %s lies outside the public hours.", in.Targets[ti].Name)
	}
	r := m.train(ii, s)
	if r < 0 {
		return in.doesNotFit(ii, s)
	}
	for b := from; b < to; b++ {
		if v, ok := m.Judge(ii, ti, r, b).Vetoed(); ok {
			return fmt.Sprintf("%s at %s: %s", in.Kit.Instruments[ii].Name, m.Blocks[b].From.In(in.Sky.Zone).Format("15:04"), v.Sentence)
		}
	}
	return ""
}

// looseDiagonal is the id of the showing's diagonal if instruments share it,
// else 0.
func (in *Input) looseDiagonal(s Showing) int64 {
	d := part(in.Kit.Diagonals, s.DiagonalID, func(d kit.Diagonal) int64 { return d.ID })
	if d == nil || d.ForID != 0 {
		return 0
	}
	return d.ID
}

// doesNotFit says why the kit cannot put a showing's train together.
func (in *Input) doesNotFit(ii int, s Showing) string {
	inst := in.Kit.Instruments[ii].Name
	tr, ok := in.TrainOf(s)
	gone := s.AmplifierID != 0 && tr.Amplifier == nil || s.FilterID != 0 && tr.Filter == nil
	switch {
	case !ok || gone:
		return fmt.Sprintf("A piece of gear of the showing at %s is not part of the night.", inst)
	case tr.Eyepiece == nil:
		return fmt.Sprintf("%s has fixed eyepieces.", inst)
	}
	return fmt.Sprintf("%s does not take %s: barrels, threads or focus do not agree.", inst, tr)
}

// Parked lists the stretches in which an instrument shows nothing, each with
// its reason.
func (in *Input) Parked(m *Matrix, shows []Showing) []Parked {
	var out []Parked
	for _, inst := range in.Kit.Instruments {
		for _, s := range m.Blocks {
			if covered(shows, inst.ID, s) {
				continue
			}
			reason := in.parkReason(m, inst.ID, s, shows)
			if n := len(out); n > 0 && out[n-1].InstrumentID == inst.ID && out[n-1].To.Equal(s.From) && out[n-1].Reason == reason {
				out[n-1].To = s.To
				continue
			}
			out = append(out, Parked{inst.ID, Span{s.From, s.To, reason}})
		}
	}
	return out
}

func covered(shows []Showing, inst int64, s Slot) bool {
	for _, x := range shows {
		if x.InstrumentID == inst && x.From.Before(s.To) && s.From.Before(x.To()) {
			return true
		}
	}
	return false
}

func (in *Input) parkReason(m *Matrix, inst int64, s Slot, shows []Showing) string {
	for _, a := range in.Away[inst] {
		if a.From.Before(s.To) && a.To.After(s.From) {
			return a.Reason
		}
	}
	ii, b := in.instrument(inst), m.BlockAt(s.From)
	if len(m.Trains[ii]) == 0 {
		return "no eyepiece fits"
	}
	lacks := ""
	for ti := range in.Targets {
		if b < 0 || m.Cell(ii, ti).Best(b) <= 0.15 {
			continue
		}
		for _, tr := range m.Cell(ii, ti).Tracks {
			if tr.Fit[b] <= 0.15 {
				continue
			}
			name := in.inUse(m.Trains[ii][tr.Train], s, shows)
			if name == "" {
				return "free"
			}
			lacks = name
		}
	}
	if lacks != "" {
		return lacks + " is in use elsewhere"
	}
	return "no target suits it now"
}

// inUse names a piece of the train that other showings leave none of in a
// block; "" when all of it is there.
func (in *Input) inUse(tr optics.Train, s Slot, shows []Showing) string {
	for _, p := range piecesOf(tr) {
		n := 0
		for _, x := range shows {
			if x.From.Before(s.To) && s.From.Before(x.To()) && p.gear.of(in, x) {
				n++
			}
		}
		switch {
		case n < p.units:
		case p.name == "":
			return "its gear"
		default:
			return p.name
		}
	}
	return ""
}

// FlowOf computes how guests pass one showing.
func (in *Input) FlowOf(m *Matrix, s Showing) Flow {
	ii, ti := in.instrument(s.InstrumentID), in.target(s.TargetID)
	if ii < 0 || ti < 0 {
		return Flow{}
	}
	m = m.Including(s)
	r := m.train(ii, s)
	if r < 0 {
		return Flow{}
	}
	from, to := m.span(s)
	var f Flow
	for b := from; b < to; b++ {
		f.Looks += m.looks(ii, ti, r, b)
	}
	if f.Looks > 0 && s.Length > 0 {
		f.GuestsPerHour = f.Looks / s.Length.Hours()
		f.LookSeconds = 3600 / f.GuestsPerHour
	}
	return f
}

// bright reports whether a target survives thin cloud and twilight.
func bright(t catalog.Target) bool {
	return t.Kind == catalog.KindMoon || t.Kind == catalog.KindPlanet || t.Kind == catalog.KindDouble || t.Kind == catalog.KindStar
}
