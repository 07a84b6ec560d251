package crew

import (
	"sort"
	"strings"
	"time"
)

// Gap is a post that lacks people over a stretch, with who could help.
type Gap struct {
	Post
	Stretch
	Missing int     // the most that are missing at once
	Free    []int64 // are there, able and without another duty then
	Ask     []int64 // able, but have not answered yet
	Train   []int64 // are there and free, and could after being shown the instrument
	Shows   []string
	Words   string
}

// Gaps returns what a roster leaves open, in the order of the needs.
func (s *Scene) Gaps(ds []Duty) []Gap {
	var out []Gap
	at := map[Post]int{} // the last gap of each post, and one
	for _, need := range s.Needs() {
		for t := need.From; t.Before(need.To); t = t.Add(s.Block) {
			block := Stretch{t, t.Add(s.Block)}
			missing := need.Count - s.filling(ds, need.Post, block)
			if missing <= 0 {
				continue
			}
			if i := at[need.Post] - 1; i >= 0 && out[i].To.Equal(t) {
				g := &out[i]
				g.To, g.Missing = block.To, max(g.Missing, missing)
				g.addShow(need)
				continue
			}
			g := Gap{Post: need.Post, Stretch: block, Missing: missing}
			g.addShow(need)
			out = append(out, g)
			at[need.Post] = len(out)
		}
	}
	for i := range out {
		s.explain(&out[i], ds)
	}
	return out
}

func (g *Gap) addShow(n Need) {
	if n.Role == Operator && n.Weight > weightRig && (len(g.Shows) == 0 || g.Shows[len(g.Shows)-1] != n.Why) {
		g.Shows = append(g.Shows, n.Why)
	}
}

// filling counts who fills a post over the whole of a stretch.
func (s *Scene) filling(ds []Duty, p Post, x Stretch) int {
	n := 0
	for _, d := range ds {
		if d.Role == p.Role && d.InstrumentID == p.InstrumentID && !d.From.After(x.From) && !d.To().Before(x.To) && s.counts(d) {
			n++
		}
	}
	return n
}

// counts reports whether a duty fills its post: a learner's does not, nor that
// of somebody who is not asked any more.
func (s *Scene) counts(d Duty) bool {
	v, ok := s.volunteer(d.VolunteerID)
	if !ok {
		return false
	}
	if d.Role != Operator {
		return true
	}
	i, ok := s.instrument(d.InstrumentID)
	return ok && rank(LevelAt(v, i)) >= rank(Alone)
}

// explain finds who could help with a gap and says all of it in words.
func (s *Scene) explain(g *Gap, ds []Duty) {
	able := false
	for _, v := range s.Volunteers {
		there, present := s.Present(v)
		covers := present && !there.From.After(g.From) && !there.To.Before(g.To)
		free := covers && !busy(ds, v.ID, g.Stretch)
		full := s.Hindrance(v, g.Post) == "" && (g.Role != Operator || s.runs(v, g.InstrumentID))
		switch {
		case full && free && len(s.newConflicts(ds, s.duty(v.ID, g.Post, g.Stretch))) == 0:
			g.Free = append(g.Free, v.ID)
		case full && !present && s.availability(v.ID).Answer == NoAnswer && !v.Retired:
			g.Ask = append(g.Ask, v.ID)
		case g.Role == Operator && free && s.trainable(v, g.InstrumentID):
			g.Train = append(g.Train, v.ID)
		}
		able = able || full && present && there.Overlaps(g.Stretch)
	}
	g.Words = s.gapWords(g, able)
}

func (s *Scene) runs(v Volunteer, instrument int64) bool {
	i, ok := s.instrument(instrument)
	return ok && rank(LevelAt(v, i)) >= rank(Alone)
}

func (s *Scene) trainable(v Volunteer, instrument int64) bool {
	i, ok := s.instrument(instrument)
	return ok && s.Trainable(v, i)
}

func (s *Scene) duty(volunteer int64, p Post, x Stretch) Duty {
	return Duty{VolunteerID: volunteer, Role: p.Role, InstrumentID: p.InstrumentID, From: x.From, Length: x.Length()}
}

// busy reports whether somebody has a duty during a stretch.
func busy(ds []Duty, volunteer int64, x Stretch) bool {
	for _, d := range ds {
		if d.VolunteerID == volunteer && (Stretch{d.From, d.To()}).Overlaps(x) {
			return true
		}
	}
	return false
}

// NobodyFree ends the words of a gap for which nobody offers: a list of many
// may say it once.
const NobodyFree = " Nobody who is there, glad to do it and able is free."

// gapWords: "No one who is there can run Long Tom from 21:30 to 22:45. Bram and
// Otto could with 20 minutes' training."
func (s *Scene) gapWords(g *Gap, able bool) string {
	when := s.words(g.Stretch)
	words := ""
	switch {
	case g.Role != Operator && g.Missing == 1:
		words = sentence("One person is missing %s %s.", s.doing(g.Post), when)
	case g.Role != Operator:
		words = sentence("%d people are missing %s %s.", g.Missing, s.doing(g.Post), when)
	case able:
		words = sentence("Nobody runs %s %s: whoever can has another duty or a break.", s.PostName(g.Post), when)
	default:
		words = sentence("No one who is there can run %s %s.", s.PostName(g.Post), when)
	}
	if g.Role != Operator && len(g.Free)+len(g.Ask) == 0 {
		words += NobodyFree
	}
	if len(g.Free) > 0 {
		words += sentence(" %s %s free then.", s.names(g.Free), isAre(len(g.Free)))
	}
	if len(g.Train) > 0 {
		words += sentence(" %s could with %.0f minutes' training.", s.names(g.Train), s.Rules.Train.Minutes())
	}
	if len(g.Ask) > 0 {
		words += sentence(" %s could, but %s not answered yet.", s.names(g.Ask), map[bool]string{true: "has", false: "have"}[len(g.Ask) == 1])
	}
	return words
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// names lists at most three people by name.
func (s *Scene) names(ids []int64) string {
	var out []string
	for _, id := range ids {
		v, _ := s.volunteer(id)
		out = append(out, v.Name)
	}
	return List(out, 3)
}

// List joins names as in a sentence; beyond most it counts them.
func List(names []string, most int) string {
	if more := len(names) - most; more > 0 && most > 0 {
		names = append(append([]string(nil), names[:most]...), sentence("%d more", more))
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

var roleNames = map[Role]string{
	Operator: "running an instrument", Greeter: "greeting", QueueHost: "the queues", ConstellationGuide: "constellation guide",
	Parking: "parking", Safety: "safety and first aid", SetUp: "set-up", PackDown: "pack-down", Companion: "company", Helped: "help without a duty",
}

// RoleName is a role as a heading names it.
func RoleName(r Role) string {
	if n, ok := roleNames[r]; ok {
		return n
	}
	return string(r)
}

// PostName names a post: the instrument, or the role.
func (s *Scene) PostName(p Post) string {
	if p.InstrumentID == 0 {
		return RoleName(p.Role)
	}
	name := sentence("instrument %d", p.InstrumentID)
	if i, ok := s.instrument(p.InstrumentID); ok {
		name = i.Name
	}
	if p.Role == Companion {
		return "company at " + name
	}
	return name
}

// doing completes "one person is missing ...".
func (s *Scene) doing(p Post) string {
	switch p.Role {
	case Greeter:
		return "at the gate"
	case QueueHost:
		return "for the queues"
	case ConstellationGuide:
		return "as constellation guide"
	case Parking:
		return "on the car park"
	case Safety:
		return "on safety and first aid"
	case SetUp:
		return "to set up"
	case PackDown:
		return "to pack down"
	}
	return "for " + s.PostName(p)
}

// Parked returns the stretches of the public hours in which an instrument shows
// nothing because nobody who is there can run it, with who could after a short
// training. The line-up left it out; these are the words for why.
func (s *Scene) Parked() []Gap {
	var out []Gap
	for _, i := range s.Instruments {
		var taken []Stretch
		for _, x := range s.showsOf(i.ID) {
			taken = append(taken, x.Stretch)
		}
		for _, v := range s.Volunteers {
			there, present := s.Present(v)
			if p := (Post{Operator, i.ID}); present && s.Hindrance(v, p) == "" && s.runs(v, i.ID) {
				taken = append(taken, there)
			}
		}
		for _, x := range without(Stretch{s.PublicFrom, s.PublicTo}, taken) {
			g := Gap{Post: Post{Operator, i.ID}, Stretch: x, Missing: 1}
			for _, v := range s.Volunteers {
				there, present := s.Present(v)
				switch {
				case present && !there.From.After(x.From) && !there.To.Before(x.To) && s.Trainable(v, i):
					g.Train = append(g.Train, v.ID)
				case !present && !v.Retired && s.availability(v.ID).Answer == NoAnswer && s.runs(v, i.ID):
					g.Ask = append(g.Ask, v.ID)
				}
			}
			g.Words = s.parkedWords(&g)
			out = append(out, g)
		}
	}
	return out
}

// parkedWords: "No one can run Long Tom after 21:30, so it shows nothing then.
// Two people could with 20 minutes' training: Bram and Otto."
func (s *Scene) parkedWords(g *Gap) string {
	when := s.words(g.Stretch)
	if g.To.Equal(s.PublicTo) && g.From.After(s.PublicFrom) {
		when = "after " + s.clock(g.From)
	} else if g.To.Equal(s.PublicTo) {
		when = "tonight"
	}
	words := sentence("No one can run %s %s, so it shows nothing then.", s.PostName(g.Post), when)
	switch n := len(g.Train); {
	case n == 1:
		words += sentence(" One person could with %.0f minutes' training: %s.", s.Rules.Train.Minutes(), s.names(g.Train))
	case n > 1:
		words += sentence(" %d people could with %.0f minutes' training: %s.", n, s.Rules.Train.Minutes(), s.names(g.Train))
	}
	if len(g.Ask) > 0 {
		words += sentence(" %s can, but %s not answered yet.", s.names(g.Ask), map[bool]string{true: "has", false: "have"}[len(g.Ask) == 1])
	}
	return words
}

// Unstaffed is a stretch in which an instrument would show something and
// nobody runs it: line-up and roster do not agree.
type Unstaffed struct {
	InstrumentID int64
	Stretch
	Shows []Show
	Words string
}

// Unstaffed returns where the line-up has showings and the roster nobody to
// run them, by instrument and time.
func (s *Scene) Unstaffed(ds []Duty) []Unstaffed {
	var out []Unstaffed
	for _, i := range s.Instruments {
		for _, x := range s.showsOf(i.ID) {
			for _, open := range s.uncovered(ds, x) {
				if n := len(out) - 1; n >= 0 && out[n].InstrumentID == i.ID && !open.From.After(out[n].To) {
					out[n].To, out[n].Shows = open.To, append(out[n].Shows, x)
					continue
				}
				out = append(out, Unstaffed{InstrumentID: i.ID, Stretch: open, Shows: []Show{x}})
			}
		}
	}
	for j := range out {
		var what []string
		for _, x := range out[j].Shows {
			what = append(what, x.What)
		}
		out[j].Words = sentence("%s has nobody to run it %s, when it would show %s.", s.PostName(Post{Operator, out[j].InstrumentID}), s.words(out[j].Stretch), List(what, 4))
	}
	return out
}

// uncovered returns the parts of a showing in which nobody runs the instrument.
func (s *Scene) uncovered(ds []Duty, x Show) []Stretch {
	var run []Stretch
	for _, d := range ds {
		if d.Role == Operator && d.InstrumentID == x.InstrumentID && s.counts(d) {
			run = append(run, Stretch{d.From, d.To()})
		}
	}
	return without(x.Stretch, run)
}

// without returns what is left of a stretch when others are taken away.
func without(x Stretch, taken []Stretch) []Stretch {
	sort.Slice(taken, func(i, j int) bool { return taken[i].From.Before(taken[j].From) })
	var out []Stretch
	at := x.From
	for _, t := range taken {
		if t.From.After(at) && at.Before(x.To) {
			out = append(out, Stretch{at, minTime(t.From, x.To)})
		}
		at = maxTime(at, t.To)
	}
	if at.Before(x.To) {
		out = append(out, Stretch{at, x.To})
	}
	return out
}

// hours prints a length of time: "3 h 15 min".
func hours(d time.Duration) string {
	h, m := int(d.Hours()), int(d.Minutes())%60
	switch {
	case h == 0:
		return sentence("%d min", m)
	case m == 0:
		return sentence("%d h", h)
	}
	return sentence("%d h %d min", h, m)
}
