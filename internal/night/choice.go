package night

import (
	"duskboard/internal/catalog"
	"duskboard/internal/crew"
	"duskboard/internal/kit"
)

// Choice is what a coordinator picks for a night out of all that the club has:
// gear by id, targets by catalogue id, and whom to ask.
type Choice struct {
	Instruments []int64
	Eyepieces   []int64
	Amplifiers  []int64
	Diagonals   []int64
	Filters     []int64
	Finders     []int64
	DewGear     []int64
	Batteries   []int64
	Steps       []int64

	Targets  []string // may be shown, in the order in which they were chosen
	MustShow []string // must be shown once; each is among Targets as well

	// Availability holds one entry for each volunteer who is asked, with the
	// answer so far; NoAnswer when there is none.
	Availability []crew.Availability
}

// Choice returns what was chosen for the plan, to be edited and saved again.
func (p Plan) Choice() Choice {
	return Choice{
		Instruments: ids(p.Kit.Instruments, func(x kit.Instrument) int64 { return x.ID }),
		Eyepieces:   ids(p.Kit.Eyepieces, func(x kit.Eyepiece) int64 { return x.ID }),
		Amplifiers:  ids(p.Kit.Amplifiers, func(x kit.Amplifier) int64 { return x.ID }),
		Diagonals:   ids(p.Kit.Diagonals, func(x kit.Diagonal) int64 { return x.ID }),
		Filters:     ids(p.Kit.Filters, func(x kit.Filter) int64 { return x.ID }),
		Finders:     ids(p.Kit.Finders, func(x kit.Finder) int64 { return x.ID }),
		DewGear:     ids(p.Kit.DewGear, func(x kit.DewGear) int64 { return x.ID }),
		Batteries:   ids(p.Kit.Batteries, func(x kit.Battery) int64 { return x.ID }),
		Steps:       ids(p.Kit.Steps, func(x kit.Steps) int64 { return x.ID }),

		Targets:      append([]string(nil), p.Targets...),
		MustShow:     append([]string(nil), p.MustShow...),
		Availability: append([]crew.Availability(nil), p.Availability...),
	}
}

func ids[T any](xs []T, id func(T) int64) []int64 {
	var out []int64
	for _, x := range xs {
		out = append(out, id(x))
	}
	return out
}

// OwnTarget is a target that the club added itself. Its ID is "own-" and a
// number that the store gives; empty for a new one.
type OwnTarget struct {
	catalog.Target
	Version  int64
	Elements string // published line of orbital elements; "" for a fixed place
}
