package web

import (
	"fmt"
	"math"
	"time"

	"duskboard/internal/chart"
	"duskboard/internal/field"
	"duskboard/internal/night"
	"duskboard/internal/weather"
	"duskboard/web/views"
)

// chartStep is the spacing of the points of a drawing over the night.
const chartStep = 15 * time.Minute

// courses begins a drawing on the line-up's time axis.
func courses(sh *night.Sheet, id, title, unit string) chart.CourseDrawing {
	from, to := boardSpan(sh)
	return chart.CourseDrawing{ID: id, Title: title, Unit: unit, From: from, To: to, Zone: sh.Zone, Bands: bands(sh, from, to),
		PublicFrom: sh.Night.PublicFrom, PublicTo: sh.Night.PublicTo()}
}

// sampled is a value of the weather at every time of a drawing, a gap where
// nobody knows it.
func sampled(sh *night.Sheet, times []time.Time, need weather.Fields, value func(weather.Hour) float64) []float64 {
	out := make([]float64, len(times))
	for i, t := range times {
		h, ok := sh.Weather.At(t)
		if !ok || !h.Has(need) {
			out[i] = math.NaN()
			continue
		}
		out[i] = value(h)
	}
	return out
}

func chartTimes(from, to time.Time) []time.Time {
	var out []time.Time
	for t := from; !t.After(to); t = t.Add(chartStep) {
		out = append(out, t)
	}
	return out
}

// skyWeatherChart draws cloud and rain chance in per cent; the wind is drawn
// apart, since it has another scale.
func skyWeatherChart(sh *night.Sheet) chart.SVG {
	d := courses(sh, "cloud-chart", "Cloud over the night", "%")
	d.Times, d.Most = chartTimes(d.From, d.To), 100
	d.Courses = []chart.Course{{Name: "cloud", Values: sampled(sh, d.Times, weather.Cloud, func(h weather.Hour) float64 { return h.Cloud })}}
	if rain := sampled(sh, d.Times, weather.PrecipProb, func(h weather.Hour) float64 { return h.PrecipProb }); anyKnown(rain) {
		d.Courses = append(d.Courses, chart.Course{Name: "rain chance", Values: rain})
	}
	th := sh.GoRules.Thresholds
	d.Levels = []chart.Level{{Name: fmt.Sprintf("cloud: doubtful from %.0f %%", th.Cloud.Doubt), Value: th.Cloud.Doubt}, {Name: fmt.Sprintf("cloud: off from %.0f %%", th.Cloud.Off), Value: th.Cloud.Off}}
	return chart.Courses(d)
}

// windChart draws the mean wind and the gusts.
func windChart(sh *night.Sheet) chart.SVG {
	d := courses(sh, "wind-chart", "Wind over the night", "m/s")
	d.Times = chartTimes(d.From, d.To)
	d.Courses = []chart.Course{{Name: "wind at 10 m", Values: sampled(sh, d.Times, weather.Wind, func(h weather.Hour) float64 { return h.Wind })}}
	if gust := sampled(sh, d.Times, weather.Gust, func(h weather.Hour) float64 { return h.Gust }); anyKnown(gust) {
		d.Courses = append(d.Courses, chart.Course{Name: "gusts", Values: gust})
	}
	th := sh.GoRules.Thresholds
	d.Levels = []chart.Level{{Name: fmt.Sprintf("wind: doubtful from %.0f m/s", th.Wind.Doubt), Value: th.Wind.Doubt}, {Name: fmt.Sprintf("wind: off from %.0f m/s", th.Wind.Off), Value: th.Wind.Off}}
	return chart.Courses(d)
}

// airChart draws the air and its dew point.
func airChart(sh *night.Sheet) chart.SVG {
	d := courses(sh, "air-chart", "Air and dew point over the night", "°C")
	d.Times = chartTimes(d.From, d.To)
	air := sampled(sh, d.Times, 0, func(h weather.Hour) float64 { return h.Temp })
	d.Least, d.Most = firstKnown(air), firstKnown(air)
	d.Courses = []chart.Course{
		{Name: "air", Values: air},
		{Name: "dew point", Values: sampled(sh, d.Times, 0, func(h weather.Hour) float64 { return h.DewPoint })},
	}
	return chart.Courses(d)
}

func anyKnown(vs []float64) bool {
	for _, v := range vs {
		if !math.IsNaN(v) {
			return true
		}
	}
	return false
}

// firstKnown keeps a scale of temperatures from reaching down to zero.
func firstKnown(vs []float64) float64 {
	for _, v := range vs {
		if !math.IsNaN(v) {
			return v
		}
	}
	return 0
}

// surfacesChart draws the air, where moisture settles, and each surface of an
// instrument; the first, the front glass, with the band it is expected in.
func surfacesChart(sh *night.Sheet, r field.Report) chart.SVG {
	d := courses(sh, fmt.Sprintf("surfaces-%d", r.Instrument), "Air, dew point and glass of "+r.Name, "°C")
	if len(r.Surfaces) == 0 || len(r.Surfaces[0].Steps) == 0 {
		return chart.Courses(d)
	}
	steps := r.Surfaces[0].Steps
	air, point := make([]float64, len(steps)), make([]float64, len(steps))
	for i, st := range steps {
		d.Times = append(d.Times, st.Time)
		air[i], point[i] = gapOr(st.Known, st.Air), gapOr(st.Known, st.Point)
	}
	d.Least, d.Most = firstKnown(air), firstKnown(air)
	d.Courses = []chart.Course{{Name: "air", Values: air}, {Name: "dew point", Values: point}}
	for n, s := range r.Surfaces {
		c := chart.Course{Name: s.Surface.Name}
		for _, st := range s.Steps {
			c.Values = append(c.Values, gapOr(st.Known, st.Surface))
			if n == 0 {
				c.Low, c.High = append(c.Low, gapOr(st.Known, st.Low)), append(c.High, gapOr(st.Known, st.High))
			}
		}
		d.Courses = append(d.Courses, c)
	}
	return chart.Courses(d)
}

// coolChart draws glass minus air with the two thresholds.
func coolChart(sh *night.Sheet, r field.Report) chart.SVG {
	d := courses(sh, fmt.Sprintf("cool-%d", r.Instrument), first(r.Cool.What)+" minus air of "+r.Name, "K")
	c := chart.Course{Name: "warmer than air"}
	for _, st := range r.Cool.Steps {
		d.Times = append(d.Times, st.Time)
		c.Values, c.Low, c.High = append(c.Values, gapOr(st.Known, st.Delta)), append(c.Low, gapOr(st.Known, st.Low)), append(c.High, gapOr(st.Known, st.High))
	}
	d.Courses = []chart.Course{c}
	lo, hi := r.Cool.LowPower, r.Cool.HighPower
	d.Levels = []chart.Level{{Name: fmt.Sprintf("good for %.0f× under %.1f K", lo.Magnification, lo.Limit), Value: lo.Limit}}
	if hi.Magnification != lo.Magnification {
		d.Levels = append(d.Levels, chart.Level{Name: fmt.Sprintf("good for %.0f× under %.1f K", hi.Magnification, hi.Limit), Value: hi.Limit})
	}
	return chart.Courses(d)
}

func gapOr(known bool, v float64) float64 {
	if !known {
		return math.NaN()
	}
	return v
}

// glassTable is the numbers behind an instrument's drawings, every half hour.
func glassTable(sh *night.Sheet, r field.Report) views.Table {
	t := views.Table{Caption: "Air and glass of " + r.Name, Columns: []views.Column{{Label: "Time"}, {Label: "Air", Number: true}, {Label: "Dew point", Number: true}}}
	for _, s := range r.Surfaces {
		t.Columns = append(t.Columns, views.Column{Label: first(s.Surface.Name), Number: true})
	}
	t.Columns = append(t.Columns, views.Column{Label: "Warmer than air", Number: true})
	if len(r.Surfaces) == 0 {
		return t
	}
	const every = int(30 * time.Minute / field.Step)
	for i := 0; i < len(r.Surfaces[0].Steps); i += every {
		st := r.Surfaces[0].Steps[i]
		if !st.Known {
			row := make([]views.Cell, len(t.Columns))
			row[0], row[1] = views.Cell{Text: siteClock(sh, st.Time)}, views.Cell{Text: "no weather"}
			t.Rows = append(t.Rows, row)
			continue
		}
		row := []views.Cell{{Text: siteClock(sh, st.Time)}, {Text: celsius(st.Air)}, {Text: celsius(st.Point)}}
		for _, s := range r.Surfaces {
			x := s.Steps[i]
			row = append(row, views.Cell{Text: celsius(x.Surface), Note: fmt.Sprintf("%+.1f K (%+.1f to %+.1f)", x.Margin, x.MarginLow, x.MarginHigh), Mark: levelMark(x)})
		}
		cool := views.Cell{}
		if c, ok := r.CoolState(st.Time); ok {
			cool = views.Cell{Text: fmt.Sprintf("%+.1f K", c.Delta), Note: fmt.Sprintf("%+.1f to %+.1f", c.Low, c.High)}
		}
		t.Rows = append(t.Rows, append(row, cool))
	}
	return t
}

func levelMark(d field.DewStep) string {
	switch d.Level {
	case field.Likely:
		return string(d.Deposit)
	case field.Possible:
		return string(d.Deposit) + " possible"
	}
	return ""
}
