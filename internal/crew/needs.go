package crew

import (
	"time"
)

// Need is a post that wants people over a stretch. The same post may have
// several needs, which do not overlap.
type Need struct {
	Post
	Stretch
	Count  int     // people
	Weight float64 // how much one person there is worth per block, against other needs
	First  float64 // what the first of them is worth on top
	Why    string  // the reason, for the page
}

// Weights of needs per block. Safety comes before anything is shown; an
// instrument that shows is worth more than any helper, up to the fifth; then
// somebody for the queues comes first (common practice: reserve a person for
// the queue before a sixth telescope is staffed).
const (
	weightShow    = 10.0
	weightSixth   = 7.0 // each instrument beyond the fifth
	weightRig     = 4.0 // setting up an instrument by whoever runs it
	weightStay    = 2.0 // staying with an instrument between two showings: never leave one alone
	weightSafety  = 6.0
	firstSafety   = 6.0
	weightGreeter = 4.0
	firstGreeter  = 3.0
	weightQueue   = 4.0
	firstQueue    = 5.0
	weightGuide   = 4.0
	firstGuide    = 2.0
	weightParking = 4.0
	firstParking  = 2.0
	weightSetUp   = 3.0
	firstSetUp    = 1.0
)

// parkingBefore and parkingAfter are how long cars come and go around the
// opening and the end (common practice).
const (
	parkingBefore = 30 * time.Minute
	parkingAfter  = 30 * time.Minute
)

// Needs returns what the night needs, instruments first in the order of the
// kit, then roles in the order of [Roles]. Nights without guests need no
// helpers for them.
func (s *Scene) Needs() []Need {
	if s.Block <= 0 || !s.PublicTo.After(s.PublicFrom) {
		return nil
	}
	var out []Need
	showing := 0
	for _, i := range s.Instruments {
		shows := s.showsOf(i.ID)
		if len(shows) == 0 {
			continue
		}
		showing++
		worth := weightShow
		if showing > 5 {
			worth = weightSixth
		}
		post := Post{Operator, i.ID}
		first := shows[0].From
		rig := s.cut(Stretch{first.Add(-up(s.setUp(i), s.Block)), first})
		if rig.Length() > 0 {
			out = append(out, Need{Post: post, Stretch: rig, Count: 1, Weight: weightRig, Why: "set up " + i.Name})
		}
		at := first
		for _, x := range shows {
			if x.From.After(at) {
				out = append(out, Need{Post: post, Stretch: Stretch{at, x.From}, Count: 1, Weight: weightStay, Why: "stay with " + i.Name})
			}
			if x.To.After(at) {
				out = append(out, Need{Post: post, Stretch: s.cut(Stretch{maxTime(at, x.From), x.To}), Count: 1, Weight: worth, Why: x.What})
				at = x.To
			}
		}
	}
	return append(out, s.helpers(showing)...)
}

func (s *Scene) helpers(showing int) []Need {
	r, open := s.Rules, Stretch{s.PublicFrom, s.PublicTo}
	var out []Need
	add := func(role Role, x Stretch, count int, weight, first float64, why string) {
		x = s.cut(x)
		if count > 0 && x.Length() > 0 {
			out = append(out, Need{Post: Post{Role: role}, Stretch: x, Count: count, Weight: weight, First: first, Why: why})
		}
	}
	guests := func(per int) int { return ratio(s.Guests, per) }
	why := func(per int) string { return sentence("one for %d guests", per) }

	// Half of the greeters are enough once the first hour is over.
	busy := Stretch{open.From, minTime(open.From.Add(up(time.Hour, s.Block)), open.To)}
	add(Greeter, busy, guests(r.PerGreeter), weightGreeter, firstGreeter, why(r.PerGreeter))
	add(Greeter, Stretch{busy.To, open.To}, (guests(r.PerGreeter)+1)/2, weightGreeter, firstGreeter, "half as many after the first hour")
	add(QueueHost, open, guests(r.PerQueueHost), weightQueue, firstQueue, why(r.PerQueueHost))
	add(ConstellationGuide, open, guests(r.PerGuide), weightGuide, firstGuide, why(r.PerGuide))
	in := Stretch{open.From.Add(-up(parkingBefore, s.Block)), minTime(open.From.Add(up(parkingBefore, s.Block)), open.To)}
	add(Parking, in, guests(r.PerParking), weightParking, firstParking, why(r.PerParking)+", while cars come")
	out2 := Stretch{maxTime(in.To, open.To.Add(-up(15*time.Minute, s.Block))), open.To.Add(up(parkingAfter, s.Block))}
	add(Parking, out2, (guests(r.PerParking)+1)/2, weightParking, firstParking, "while cars leave")
	add(Safety, open, guests(r.PerSafety), weightSafety, firstSafety, why(r.PerSafety))
	add(SetUp, Stretch{open.From.Add(-up(r.Lead, s.Block)), open.From}, ratio(showing, r.PerSetUp), weightSetUp, firstSetUp, sentence("one for %d instruments", r.PerSetUp))
	add(PackDown, Stretch{open.To, open.To.Add(up(r.After, s.Block))}, ratio(showing, r.PerPackDown), weightSetUp, firstSetUp, sentence("one for %d instruments", r.PerPackDown))
	return out
}

// ratio is how many people n things need when each looks after per of them.
func ratio(n, per int) int {
	if per <= 0 || n <= 0 {
		return 0
	}
	return (n + per - 1) / per
}

// cut limits a stretch to the span of the night.
func (s *Scene) cut(x Stretch) Stretch {
	all := s.Span()
	x.From, x.To = maxTime(x.From, all.From), minTime(x.To, all.To)
	if x.To.Before(x.From) {
		x.To = x.From
	}
	return x
}

func maxTime(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

func minTime(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}
