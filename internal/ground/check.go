package ground

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Fault is something wrong with the places, in words.
type Fault struct {
	Key    Key
	Hazard bool    // somebody may come to harm; otherwise the night is poorer
	Places []int64 // ids of the instruments concerned
	Words  string
}

// Check says what is wrong with places, hazards first. Nothing is told of a
// ground that nobody has described.
func (l *Layout) Check(places []Place) []Fault {
	if l.Ground.Empty() {
		return nil
	}
	var out []Fault
	add := func(k Key, words string, ids ...int64) {
		out = append(out, Fault{Key: k, Hazard: hazard[k], Places: ids, Words: words})
	}
	var laid []placed
	for i, s := range l.Stands {
		n := slices.IndexFunc(places, func(p Place) bool { return p.InstrumentID == s.ID })
		if n < 0 {
			add(Unplaced, s.Name+" has no place yet.", s.ID)
			continue
		}
		f := l.Footprint(s, places[n])
		laid = append(laid, placed{s, f})
		told := map[string]bool{}
		tell := func(x finding) {
			if w := l.words(s, x); !told[w] {
				told[w] = true
				add(x.key, w, s.ID)
			}
		}
		l.spot(s, f, tell)
		l.line(f, tell)
		l.access(i, f, add)
	}
	for a, p := range laid {
		for _, q := range laid[a+1:] {
			told := map[Key]bool{}
			tell := func(s, t Stand) func(finding) {
				return func(x finding) {
					if !told[x.key] {
						told[x.key] = true
						add(x.key, pairWords(s, t, x), s.ID, t.ID)
					}
				}
			}
			mutual(p.feet, q.feet, tell(p.stand, q.stand))
			between(p.feet, q.feet, tell(p.stand, q.stand))
			between(q.feet, p.feet, tell(q.stand, p.stand))
		}
	}
	l.paved(add)
	slices.SortStableFunc(out, func(a, b Fault) int { return cmp.Compare(rank(a), rank(b)) })
	return out
}

type placed struct {
	stand Stand
	feet  Footprint
}

func rank(f Fault) int {
	switch {
	case f.Key == Unplaced:
		return 3
	case f.Hazard:
		return 0
	case f.Key == Hidden:
		return 1
	}
	return 2
}

// access tells whether the instrument that serves guests in wheelchairs can be
// reached.
func (l *Layout) access(i int, f Footprint, add func(Key, string, ...int64)) {
	if i != l.best {
		return
	}
	s := l.Stands[i]
	switch d := l.fromWheels(f); {
	case len(l.wheels) == 0:
		add(Access, fmt.Sprintf("%s is the one that guests in wheelchairs can use, and no path on the plan carries one: mark a firm, even path, or lay boards (local rules for accessibility go first).", s.Name), s.ID)
	case d > nearPath:
		add(Access, fmt.Sprintf("%s is the one that guests in wheelchairs can use, and stands %.0f m from the nearest firm path; %.0f m is as far as one is helped over grass.", s.Name, d, nearPath), s.ID)
	}
}

// paved tells what is wrong with the ground for wheels, whoever stands where.
func (l *Layout) paved(add func(Key, string, ...int64)) {
	if l.best < 0 && len(l.Stands) > 0 {
		add(NoAccess, "No instrument can be used seated tonight: plan one with its eyepiece at 1.05 to 1.30 m, or a screen.")
	}
	for _, p := range l.wheels {
		if p.Width < NarrowestPath {
			add(NarrowPath, fmt.Sprintf("%s is %.2g m wide: a wheelchair wants %.2f m clear at the least (ADA Standards 2010, 403.5.1), %.1f m with comfort; local rules go first.", upper(name(p)), p.Width, NarrowestPath, GoodPath))
		}
	}
}

// words tells what one instrument's place has against it.
func (l *Layout) words(s Stand, x finding) string {
	what := ""
	if x.feature != nil {
		what = name(*x.feature)
	}
	switch x.key {
	case Outside:
		if x.b == 0 {
			return s.Name + " stands outside the usable ground."
		}
		return fmt.Sprintf("%s stands %.1f m from the edge of the ground; leave %.0f m.", s.Name, max(0, x.a), x.b)
	case InWay:
		if x.a <= 0 {
			return fmt.Sprintf("%s stands on %s.", s.Name, what)
		}
		return fmt.Sprintf("%s has %.1f m to %s; leave %.1f m.", s.Name, x.a, what, x.b)
	case AtGate:
		return fmt.Sprintf("%s or its line is too near %s: keep %.0f m free for an ambulance and for who leaves early.", s.Name, what, gateRoom)
	case OnPath:
		return fmt.Sprintf("The legs of %s reach into %s: people trip over them in the dark. Leave %.1f m beside it.", s.Name, what, pathRoom)
	case CableLegs:
		return fmt.Sprintf("%s stands on %s.", s.Name, what)
	case Glare:
		return fmt.Sprintf("%s is %.0f m from %s: have it off, shielded or red, or stand %.0f m away.", s.Name, x.a, what, x.b)
	case Hidden:
		return l.hiddenWords(s, x)
	case CableLong:
		if x.b == 0 {
			return fmt.Sprintf("%s wants a cable, and the plan has no power point: bring a battery that lasts, or mark where power is.", s.Name)
		}
		return fmt.Sprintf("The cable to %s would be %.0f m long; one reel is %.0f m. Bring a battery instead.", s.Name, x.a, x.b)
	case CablePath:
		return fmt.Sprintf("The cable to %s crosses %s: take it around, or cover it with a ramp and mark it (local rules go first).", s.Name, what)
	case QueueRoom:
		if x.feature == nil {
			return fmt.Sprintf("The line at %s runs off the ground.", s.Name)
		}
		return fmt.Sprintf("The line at %s runs into %s.", s.Name, what)
	case QueuePath:
		return fmt.Sprintf("The line at %s blocks %s.", s.Name, what)
	case QueueCable:
		return fmt.Sprintf("The line at %s stands on %s: people trip.", s.Name, what)
	case LadderRoom:
		return fmt.Sprintf("The ladder at %s has %.1f m to %s; keep %.1f m free, for the one who holds it and against knocks.", s.Name, max(0, x.a), what, x.b)
	}
	return s.Name + " stands badly."
}

// hiddenWords tells from when to when a target is hidden, and by how much.
func (l *Layout) hiddenWords(s Stand, x finding) string {
	t := s.Sights[x.sight]
	span := "all the time it is shown"
	if x.much < 1 {
		span = fmt.Sprintf("for %.0f %% of its showing", 100*x.much)
	}
	high := fmt.Sprintf("reaches %.0f°", x.b)
	if x.b >= 89.5 {
		high = "is right above"
	}
	return fmt.Sprintf("At %s, %s hides %s %s: it stands at %.0f° there, and %s %s.", s.Name, name(*x.feature), t.Target, span, x.a, name(*x.feature), high)
}

// pairWords tells what two places do to each other; s does it to t.
func pairWords(s, t Stand, x finding) string {
	switch x.key {
	case Overlap:
		return fmt.Sprintf("%s and %s stand %.1f m apart; with those at the eyepieces they need %.1f m.", s.Name, t.Name, x.a, x.b)
	case QueueCross:
		if x.a == 0 {
			return fmt.Sprintf("The lines at %s and %s cross.", s.Name, t.Name)
		}
		return fmt.Sprintf("The lines at %s and %s touch.", s.Name, t.Name)
	case QueueRoom:
		return fmt.Sprintf("The line at %s runs into %s.", t.Name, s.Name)
	case QueueCable:
		return fmt.Sprintf("The cable to %s runs under the line at %s: people trip.", s.Name, t.Name)
	case CableLegs:
		return fmt.Sprintf("The cable to %s runs through the legs of %s.", s.Name, t.Name)
	case LadderRoom:
		return fmt.Sprintf("The ladder at %s has too little room beside %s: keep %.1f m free around it.", s.Name, t.Name, x.b)
	}
	return fmt.Sprintf("%s and %s are in each other's way.", s.Name, t.Name)
}

// name of a feature within a sentence.
func name(f Feature) string {
	if n := strings.TrimSpace(f.Name); n != "" {
		return n
	}
	return map[Kind]string{
		Gate: "the gate", Path: "the path", Tree: "a tree", Hedge: "the hedge", Building: "a building", KeepOut: "ground that is kept free",
		Lamp: "a lamp", RedLamp: "a red lamp", Power: "the power point", Cable: "a cable",
	}[f.Kind]
}

func upper(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// PathWords says how good a path is for wheels.
func PathWords(width float64) string {
	switch {
	case math.IsNaN(width) || width < NarrowestPath:
		return "too narrow for a wheelchair"
	case width < GoodPath:
		return "wide enough for a wheelchair alone"
	case width < TurningCircle:
		return "wide enough for a wheelchair and a helper"
	}
	return "wide enough for two wheelchairs to meet"
}
