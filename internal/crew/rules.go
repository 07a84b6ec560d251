package crew

import (
	"time"

	"duskboard/internal/fault"
)

// Companion keeps a minor company at an instrument: an adult who need not be
// able to run it. It is offered where duties are given out, not in anybody's
// list of what they like to do.
const Companion Role = "companion"

// Rules say how many people a night needs and how long they work. A ratio of 0
// means that the role is not wanted.
type Rules struct {
	Version int64

	Work  time.Duration // longest stretch of work without a break
	Break time.Duration // shortest break
	Least time.Duration // shortest duty
	Lead  time.Duration // set-up begins so long before the gate opens
	After time.Duration // pack-down ends so long after the public hours
	Train time.Duration // what it takes to be shown a similar instrument

	PerGreeter   int // guests for each greeter
	PerQueueHost int // guests for each host of a queue
	PerGuide     int // guests for each constellation guide
	PerParking   int // guests for each marshal
	PerSafety    int // guests for each person on safety and first aid
	PerSetUp     int // instruments for each helper who sets up
	PerPackDown  int // instruments for each helper who packs down

	MinorsGuarded bool // a minor is never alone on a duty; the club's and the law's own rules come first
	Laser         bool // the club and the law allow a pointer

	SeasonMonth time.Month // with which the club's season begins; hours and fairness count by seasons
}

// DefaultRules are common practice: about one greeter for 100 guests, somebody
// for the queues before there is a sixth instrument, a constellation guide as
// the thing to look at without an eyepiece, one person whose only task is
// safety, three hours of work at most.
func DefaultRules() Rules {
	return Rules{
		Work: 3 * time.Hour, Break: 15 * time.Minute, Least: 30 * time.Minute,
		Lead: time.Hour, After: 45 * time.Minute, Train: 20 * time.Minute,
		PerGreeter: 100, PerQueueHost: 75, PerGuide: 200, PerParking: 120, PerSafety: 250, PerSetUp: 5, PerPackDown: 5,
		MinorsGuarded: true, SeasonMonth: time.January,
	}
}

// Check returns the faults of the rules by the names of their fields.
func (r Rules) Check() fault.Fields {
	var faults fault.Fields
	minutes := func(name string, d time.Duration, low, high int) {
		if d < time.Duration(low)*time.Minute || d > time.Duration(high)*time.Minute {
			faults = append(faults, fault.Field{Name: name, Message: sentence("%d to %d minutes.", low, high)})
		}
	}
	ratio := func(name string, n, high int) {
		if n < 0 || n > high {
			faults = append(faults, fault.Field{Name: name, Message: sentence("0 to %d; 0 leaves the role out.", high)})
		}
	}
	minutes("Work", r.Work, 30, 900)
	minutes("Break", r.Break, 5, 120)
	minutes("Least", r.Least, 5, 240)
	minutes("Lead", r.Lead, 0, 240)
	minutes("After", r.After, 0, 240)
	minutes("Train", r.Train, 5, 240)
	ratio("PerGreeter", r.PerGreeter, 10000)
	ratio("PerQueueHost", r.PerQueueHost, 10000)
	ratio("PerGuide", r.PerGuide, 10000)
	ratio("PerParking", r.PerParking, 10000)
	ratio("PerSafety", r.PerSafety, 10000)
	ratio("PerSetUp", r.PerSetUp, 100)
	ratio("PerPackDown", r.PerPackDown, 100)
	if r.SeasonMonth < time.January || r.SeasonMonth > time.December {
		faults = append(faults, fault.Field{Name: "SeasonMonth", Message: "Choose a month from the list."})
	}
	return faults
}
