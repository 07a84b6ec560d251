package field

import (
	"math"
	"time"

	"duskboard/internal/weather"
)

// cases are the three runs that make a band: what is likely, a cold sky over
// moist calm air (dew comes first), a warm sky over drier, windier air.
const (
	likely = iota
	cold
	warm
	nCases
)

// spread is what a case does to the forecast. Hourly humidities are right to
// about 3 points, winds to about 40 per cent.
var spread = [nCases]struct {
	sky      SkyModel
	humidity float64 // points
	wind     float64 // factor
}{
	likely: {BerdahlMartin, 0, 1},
	cold:   {Brunt, +3, 0.6},
	warm:   {BerdahlLi, -3, 1.4},
}

// Values that stand in, in each case, for what nobody gave. The report says so.
var (
	unknownCloud = [nCases]float64{likely: 0, cold: 0, warm: 1}
	unknownWind  = [nCases]float64{likely: 1.5, cold: 0, warm: 4} // m/s at 10 m
)

// instant is the weather at one step, ready for the balance.
type instant struct {
	time    time.Time
	known   bool
	temp    float64         // degrees C
	dew     [nCases]float64 // dew point, degrees C
	deposit [nCases]float64 // frost point below freezing, else the dew point
	loss    [nCases]float64 // of a black face to the whole sky, W/m2
	wind    [nCases]float64 // at the instrument, m/s
	missing weather.Fields  // stood in for
	guessed bool            // weather estimated between or beyond given hours
}

// night is the weather of every step from from to to.
type night struct {
	from  time.Time
	steps []instant
}

// newNight samples the series. The grid runs through anchor, so that it holds
// the moment at which the instrument goes out exactly.
func newNight(s weather.Series, o Options, from, to time.Time) night {
	n := int(to.Sub(from)/Step) + 1
	steps := make([]instant, n)
	for i := range steps {
		t := from.Add(time.Duration(i) * Step)
		steps[i] = instant{time: t}
		if h, ok := s.At(t); ok {
			steps[i] = o.instant(h)
			if t.Before(o.Uncap) {
				steps[i].loss = [nCases]float64{}
			}
		}
	}
	return night{from, steps}
}

// instant prepares one hour.
func (o Options) instant(h weather.Hour) instant {
	t := h.Temp + o.AirOffset
	// Moving the air of a hollow down in temperature keeps its water, up to saturation.
	rh := weather.RelativeHumidity(t, math.Min(t, h.DewPoint)) + o.HumidityOffset
	x := instant{time: h.Time, known: true, temp: t, missing: h.Missing & (weather.Cloud | weather.Wind), guessed: h.Estimated}
	cloud, cloudKnown := h.OpaqueCloud()
	down := windFactor(10) / windFactor(instrumentHeight) * float64(o.Shelter)
	for k := range nCases {
		moist := math.Max(1, math.Min(100, rh+spread[k].humidity))
		x.dew[k] = weather.DewPoint(t, moist)
		x.deposit[k] = weather.FrostPoint(x.dew[k])
		c := cloud
		if !cloudKnown {
			c = unknownCloud[k]
		}
		eps := CloudySky(spread[k].sky.Emissivity(t, x.dew[k]), c)
		x.loss[k] = SkyLoss(math.Min(eps, 1), t)
		w := h.Wind * spread[k].wind
		if !h.Has(weather.Wind) {
			w = unknownWind[k]
		}
		x.wind[k] = w * down
	}
	return x
}

// exposure is what a surface feels that gets share of the wind.
func (x *instant) exposure(k int, share float64) Exposure {
	return Exposure{Air: x.temp, Loss: x.loss[k], Wind: x.wind[k] * share}
}

// index is the step at or after t, which may lie outside.
func (n night) index(t time.Time) int {
	return int(math.Ceil(float64(t.Sub(n.from)) / float64(Step)))
}

// firstKnown is the first step from i on with weather, or -1.
func (n night) firstKnown(i int) int {
	for i = max(i, 0); i < len(n.steps); i++ {
		if n.steps[i].known {
			return i
		}
	}
	return -1
}

// missing is what some step lacked.
func (n night) missing() weather.Fields {
	var m weather.Fields
	for i := range n.steps {
		m |= n.steps[i].missing
	}
	return m
}
