package sky

import (
	"math"
	"time"
)

// middling is the standard magnitude of a satellite nobody has described: that
// of a large rocket body (common practice; single ones differ by 3).
const middling = 4.0

// knownStandards are standard magnitudes (1000 km, half lit) of the satellites
// that everybody asks for, by catalogue number; from memory of observers' lists,
// within half a magnitude.
var knownStandards = map[string]float64{
	"25544": -1.8, // the International Space Station
	"48274": -0.5, // the space station of 2021
	"20580": 2.2,  // the space telescope of 1990
}

func (s Satellite) standard() float64 {
	if !math.IsNaN(s.Standard) {
		return s.Standard
	}
	if m, ok := knownStandards[s.Number]; ok {
		return m
	}
	return middling
}

func (s Satellite) assumed() bool {
	_, known := knownStandards[s.Number]
	return math.IsNaN(s.Standard) && !known
}

// Brightness classes: the faintest magnitude of each.
const (
	brilliant = -2.5
	bright    = 1.0
	easy      = 3.5
)

func brightnessClass(magnitude float64) string {
	switch {
	case magnitude <= brilliant:
		return "brilliant"
	case magnitude <= bright:
		return "bright"
	case magnitude <= easy:
		return "easy"
	}
	return "faint"
}

// light finds the shadow and the visible part of a pass.
func (w *passWatch) light(p *Pass, standard float64) {
	// The Sun moves half an arcminute during a pass: one place does.
	middle := p.Culmination.Time
	sun := Sun.apparent(ttOf(middle))
	direction := sun.dir
	lit := func(t time.Time) bool {
		centre, _, _, err := w.place(t)
		return err == nil && sunlit(centre, direction)
	}

	const step = 5 * time.Second
	p.Magnitude = math.Inf(1)
	was := lit(p.Rise.Time)
	for t := p.Rise.Time; t.Before(p.Set.Time); t = t.Add(step) {
		is := lit(t)
		if is != was {
			change, _ := turning(t.Add(-step), step/5, 2*step, func(t time.Time) bool { return lit(t) == is })
			point := w.point(change)
			if is {
				p.ShadowExit = &point
			} else {
				p.ShadowEntry = &point
			}
			was = is
		}
		if is {
			w.watch(p, t, direction, standard)
		}
	}
	if p.Visible {
		p.Class = brightnessClass(p.Magnitude)
	} else {
		p.Magnitude = math.NaN()
	}
}

// watch adds a lit instant to what can be seen of the pass.
func (w *passWatch) watch(p *Pass, t time.Time, sun vec3, standard float64) {
	const low, dusk = 10, -6
	point := w.point(t)
	if point.Altitude < low || w.night.At(Sun, t).Alt > dusk {
		return
	}
	if !p.Visible {
		p.Visible, p.From = true, point
	}
	p.To = point
	_, seen, _, err := w.place(t)
	if err != nil {
		return
	}
	// A diffuse sphere (Russell 1916): at half phase its light is what the
	// standard magnitude means.
	phase := math.Pi - math.Acos(seen.unit().dot(sun))
	share := math.Sin(phase) + (math.Pi-phase)*math.Cos(phase)
	m := standard + 5*math.Log10(point.Distance/1000) - 2.5*math.Log10(math.Max(share, 1e-4))
	if m < p.Magnitude {
		p.Magnitude, p.Brightest = m, point
	}
}

// sunlit says whether the middle of the Sun is not behind the Earth, taken as a
// sphere of the equator's radius, as seen from a satellite (km from the Earth's
// centre).
func sunlit(satellite, sun vec3) bool {
	along := satellite.dot(sun)
	return along > 0 || satellite.sub(sun.scale(along)).norm() > wgsRadius
}
