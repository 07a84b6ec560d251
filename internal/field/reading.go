package field

import (
	"errors"
	"math"
	"time"
)

// Reading is one look at two thermometers.
type Reading struct {
	Time  time.Time
	Glass float64 // degrees C, of the mirror or lens
	Air   float64 // degrees C
}

// Errors of [MeasuredTau].
var (
	ErrReadingsOrder = errors.New("the second reading must come at least ten minutes after the first")
	ErrReadingsWarm  = errors.New("the glass must be at least 2 degrees warmer than the air at the first reading, and warmer at the second")
	ErrReadingsRise  = errors.New("the glass did not come closer to the air in a way that cooling explains; measure again")
)

// MeasuredTau is the time constant in hours that two readings give, with the
// air falling or rising evenly between them. With steady air it is dt over
// ln(d1/d2).
func MeasuredTau(a, b Reading) (float64, error) {
	dt := b.Time.Sub(a.Time).Hours()
	d1, d2 := a.Glass-a.Air, b.Glass-b.Air
	switch {
	case dt < 1.0/6:
		return 0, ErrReadingsOrder
	case !(d1 >= 2) || !(d2 > 0):
		return 0, ErrReadingsWarm
	}
	fall := (a.Air - b.Air) / dt // K an hour
	// The difference after dt grows with tau, so the root is unique.
	after := func(tau float64) float64 {
		return fall*tau + (d1-fall*tau)*math.Exp(-dt/tau)
	}
	lo, hi := 0.02, 24.0
	if after(lo) > d2 || after(hi) < d2 {
		return 0, ErrReadingsRise
	}
	for range 80 {
		mid := math.Sqrt(lo * hi)
		if after(mid) < d2 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Sqrt(lo * hi), nil
}
