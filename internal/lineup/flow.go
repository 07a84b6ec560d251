package lineup

import (
	"fmt"
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
	Short       bool          // fewer than two looks per guest, or a wait over [LongWait]
	Queues      []Queue       // showings at which the wait is over [LongWait], longest first
	Proposals   []string      // what would help, when it is short
}

// Queue is the line at one showing.
type Queue struct {
	Showing Showing
	Wait    time.Duration // at its end, for who joins then
}

// LongWait is the wait from which something has to be done: common practice
// calls 10 to 15 minutes good and half an hour with children a failure.
const LongWait = 20 * time.Minute

// wantedLooks is how many instruments a guest wants to look through in a night.
const wantedLooks = 4.0

// CrowdFlow sums the flow of a night: looks given over so many hours of
// showings at so many instruments, and guests who choose freely among them.
func CrowdFlow(looks, showingHours float64, instruments, guests int, public time.Duration) Crowding {
	c := Crowding{Looks: looks}
	if guests <= 0 || instruments == 0 || showingHours <= 0 || looks <= 0 {
		return c
	}
	c.PerGuest = looks / float64(guests)
	service := 3600 * showingHours / looks // seconds per look at one instrument
	// All at once: each queue gets its share of the guests.
	c.LongestWait = seconds64(float64(guests) / float64(instruments) * service)
	// Spread over the public hours: M/D/1 waiting time; beyond what can be
	// served, the queue grows all night long.
	demand := float64(guests) * math.Min(wantedLooks, float64(instruments))
	if u := demand / looks; u < 0.98 {
		c.MeanWait = seconds64(service * u / (2 * (1 - u)))
		c.MeanWait = min(c.MeanWait, c.LongestWait/2)
	} else {
		c.MeanWait = c.LongestWait / 2
	}
	c.Short = c.PerGuest < 2 || c.MeanWait > LongWait
	if c.PerGuest < 1.5 {
		c.Proposals = append(c.Proposals, fmt.Sprintf("About one look per guest: if all come at once, the last in line waits %.0f minutes.", c.LongestWait.Minutes()))
	}
	if c.Short {
		each := looks / float64(instruments)
		need := int(math.Ceil(2 * float64(guests) / each))
		if need > instruments {
			c.Proposals = append(c.Proposals, fmt.Sprintf("For two looks per guest it takes %d instruments instead of %d, or half of the guests an hour later.", need, instruments))
		}
	}
	return c
}

func seconds64(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }
