package vision

import (
	"fmt"
	"math"

	"duskboard/internal/optics"
)

// Grade is how easily a guest sees something, in words.
type Grade string

// The grades, best first.
const (
	Obvious  Grade = "obvious"
	ByMost   Grade = "seen by most"
	Patience Grade = "with patience"
	NotShown Grade = "not for guests"
)

// Margins in magnitudes from which a grade is given; common practice of ours.
// The field factor of the observer is in the margin already.
const (
	MarginObvious  = 2.0
	MarginByMost   = 1.0
	MarginPatience = 0.0
)

// GradeOf returns the grade of a margin in magnitudes; NaN is NotShown.
func GradeOf(margin float64) Grade {
	switch {
	case margin >= MarginObvious:
		return Obvious
	case margin >= MarginByMost:
		return ByMost
	case margin >= MarginPatience:
		return Patience
	}
	return NotShown
}

func (g Grade) rank() int {
	switch g {
	case Obvious:
		return 3
	case ByMost:
		return 2
	case Patience:
		return 1
	}
	return 0
}

// Lower returns the worse of the two grades.
func (g Grade) Lower(b Grade) Grade {
	if b.rank() < g.rank() {
		return b
	}
	return g
}

// Seen is the full answer for one target, train and moment.
type Seen struct {
	Margin   float64 // magnitudes above the threshold
	Grade    Grade
	Part     string // which part of the target shows best
	Sentence string
	Assumed  []string // fields of the kit it rests on that hold a default
}

// See judges a subject in a train for an observer against the sky behind it;
// dimming is the extinction in magnitudes. For one answer with its reasons;
// the line-up's loop uses Sights.
func See(sub *Subject, t optics.Train, obs Observer, sky Background, dimming float64) Seen {
	o := t.Static()
	s := NewSight(o, obs, t.Filter, sky.Mu)
	seen := Seen{Margin: s.Margin(sub, sky.Mu, dimming), Part: s.Part(sub, sky.Mu, dimming)}
	seen.Grade = GradeOf(seen.Margin)
	seen.Sentence = sentence(seen)
	seen.Assumed = o.Assumed
	return seen
}

func sentence(s Seen) string {
	subject := "It"
	switch s.Part {
	case "core", "middle":
		subject = "Its " + s.Part
	case "brighter members", "stars":
		subject = "Its " + s.Part
	}
	verb := "stands"
	if s.Part == "brighter members" || s.Part == "stars" {
		verb = "stand"
	}
	half := math.Round(2*math.Abs(s.Margin)) / 2
	if s.Margin < 0 {
		if half == 0 {
			return subject + " just misses what a guest's eye can see tonight."
		}
		return fmt.Sprintf("%s %s %.1f mag below what a guest's eye can see tonight.", subject, verb, half)
	}
	if half == 0 {
		return fmt.Sprintf("%s %s at the very limit of a guest's eye: %s.", subject, verb, s.Grade)
	}
	return fmt.Sprintf("%s %s %.1f mag above the limit of a guest's eye: %s.", subject, verb, half, s.Grade)
}
