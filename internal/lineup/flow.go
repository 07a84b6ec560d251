package lineup

import (
	"math"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
)

// recentre is how long an operator takes to bring a target back, seconds
// (science sheet of optics, 9).
const recentre = 20.0

// lookTime is how many seconds one guest takes, with what an undriven mount
// loses to nudging and a ladder to climbing. drift is the time from edge to
// edge in seconds; steps the steps a typical guest climbs.
func lookTime(t catalog.Target, inst kit.Instrument, c Crowd, drift float64, steps int) float64 {
	s := lookSeconds(t) * c.Slow
	if steps >= ladderSteps {
		s += 15
	}
	if !inst.Tracking && drift > 0 {
		s *= 1 + recentre/(usableDrift*drift)
	}
	return s
}

// Flow is how guests pass an instrument during one showing.
type Flow struct {
	LookSeconds   float64 // per guest, all in
	GuestsPerHour float64
	Looks         float64 // during the showing
}

// Crowding is how the night copes with its guests.
type Crowding struct {
	Looks       float64       // all looks that the line-up can give
	PerGuest    float64       // looks for each expected guest
	LongestWait time.Duration // for the last guest when all come at once
	MeanWait    time.Duration // by simple queueing, guests spread over the night
	Short       bool          // fewer than two looks per guest, or a wait over 20 minutes
	Proposals   []string      // what would help, when it is short
}

// crowd sums the flow of a line-up: guests choose among the instruments that
// show something, everybody wants every look once.
func crowd(looks float64, showingHours float64, instruments int, guests int, public time.Duration) Crowding {
	c := Crowding{Looks: looks}
	if guests <= 0 || instruments == 0 || showingHours <= 0 {
		return c
	}
	c.PerGuest = looks / float64(guests)
	perHour := looks / showingHours // of one instrument
	service := 3600 / perHour
	// All at once: each queue gets its share of the guests.
	c.LongestWait = time.Duration(float64(guests) / float64(instruments) * service * float64(time.Second))
	// Spread over the public hours: each guest wants as many looks as there
	// are instruments, at most four; M/D/1 waiting time.
	want := math.Min(4, float64(instruments))
	u := float64(guests) * want / math.Max(looks, 1)
	if u < 0.98 {
		c.MeanWait = time.Duration(service * u / (2 * (1 - u)) * float64(time.Second))
	} else {
		c.MeanWait = c.LongestWait / 2
	}
	c.Short = c.PerGuest < 2 || c.MeanWait > 20*time.Minute
	return c
}
