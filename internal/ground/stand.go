package ground

import (
	"math"
	"time"

	"duskboard/internal/kit"
)

// Step is what lifts guests at an instrument.
type Step int

// Steps, from none to a ladder.
const (
	NoStep Step = iota
	Stool
	Ladder
)

// Look is where a target stands at one moment of its showing, degrees.
type Look struct {
	At      time.Time
	Az, Alt float64
}

// Sight is a showing as the ground sees it.
type Sight struct {
	Target string // its name
	Looks  []Look // a few moments from beginning to end
}

// Stand is an instrument as the ground sees it.
type Stand struct {
	ID      int64
	Name    string
	Radius  float64 // of the circle around tripod legs or base, m
	Assumed bool    // the radius rests on a usual value
	Eye     float64 // height of the tube's axis over the ground, m
	Step    Step
	People  int     // waiting in line
	Access  float64 // share of its hours in which a seated guest reaches the eyepiece, 0 to 1
	Awkward bool    // a wheelchair comes near it badly, or the target runs away: another is better if there is one
	Mains   bool    // wants a cable
	Sights  []Sight
}

// Place is where an instrument stands on one night.
type Place struct {
	InstrumentID int64   `json:"instrument"`
	Number       int     `json:"number"` // on the card: "place 4"
	At           Point   `json:"at"`
	Queue        float64 `json:"queue"`            // where the line goes, degrees from north through east
	Pinned       bool    `json:"pinned,omitempty"` // stays when places are suggested
}

// MostNumber is the largest number of a place.
const MostNumber = 99

// RadiusOf is the circle around an instrument's legs or base, m; usual says
// that a usual value stands for one nobody measured. Tripods spread their feet
// about half as far as they are high at the axis (a 60 degree opening between
// two legs, common practice); a rocker box is a hand wider than the tube; a
// Parallelogram or a pair of binoculars stands on a tripod too.
func RadiusOf(i kit.Instrument) (r float64, usual bool) {
	usual = assumed(i, "PivotHeight")
	if i.Mount == kit.RockerBox {
		return math.Max(0.35, i.Aperture/2000+0.15), false
	}
	if i.PivotHeight <= 0 {
		return 0.7, true
	}
	return math.Min(1.2, math.Max(0.45, i.PivotHeight/2)), usual
}

func assumed(i kit.Instrument, field string) bool {
	for _, f := range i.Assumed {
		if f == field {
			return true
		}
	}
	return false
}

// room is the circle that the instrument and those at its eyepiece take, m.
func (s Stand) room() float64 { return s.Radius + standing }

// lineLength is how long the line is, m.
func (s Stand) lineLength() float64 {
	n := min(max(s.People, fewestWaiting), mostWaiting)
	return float64(n) * perGuest
}

// serves is how well it serves guests in wheelchairs.
func (s Stand) serves() float64 {
	if s.Awkward {
		return s.Access / 2
	}
	return s.Access
}

// low is the share of its looks below lowSky, and the mean direction of them;
// false when it has none.
func (s Stand) low() (az float64, ok bool) {
	var sum Point
	for _, t := range s.Sights {
		for _, l := range t.Looks {
			if l.Alt < lowSky {
				sum = sum.plus(toward(l.Az))
			}
		}
	}
	if sum == (Point{}) {
		return 0, false
	}
	return Point{}.bearing(sum), true
}
