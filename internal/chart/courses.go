package chart

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// Course is one quantity over the night. Values hold one number for each of the
// drawing's times, NaN where nobody knows. Low and High, when given, are the
// edges within which it is expected.
type Course struct {
	Name      string
	Values    []float64
	Low, High []float64
}

// Level is a threshold: a broken line with its name.
type Level struct {
	Name  string
	Value float64
}

// CourseDrawing is what quantities over the night are drawn from.
type CourseDrawing struct {
	ID, Title  string
	Unit       string // of the scale: "°C", "K", "%"
	From, To   time.Time
	Zone       *time.Location
	Times      []time.Time
	Courses    []Course
	Levels     []Level
	Bands      []Band
	PublicFrom time.Time
	PublicTo   time.Time
	Least      float64 // the scale covers at least from Least to Most
	Most       float64
}

// Frame of a drawing of lines: the time axis lies where the line-up's does, so
// that the drawings can be read one under the other.
const (
	courseWidth, courseLeft, courseRight = 1080.0, 190.0, 1079.0
	courseTop, courseBottom              = 54.0, 250.0
)

// Courses draws quantities over the night on the line-up's time axis, with the
// names of the lines in the margin, told apart by their dashes.
func Courses(d CourseDrawing) SVG {
	var c canvas
	c.begin(d.ID, "drawing courses", courseWidth, courseBottom+6, d.Title, courseWords(d))
	x := Axis{From: d.From, To: d.To, Zone: d.Zone, Left: courseLeft, Right: courseRight}
	lo, hi, step := d.scale()
	y := func(v float64) float64 {
		return courseBottom - (math.Min(math.Max(v, lo), hi)-lo)/(hi-lo)*(courseBottom-courseTop)
	}

	c.drawSky(x, d.Bands, 0, 24)
	if p1, p2 := x.X(d.PublicFrom), x.X(d.PublicTo); p2 > p1 {
		c.void("rect", a("class", "public"), a("x", p1), a("y", courseTop), a("width", p2-p1), a("height", courseBottom-courseTop))
	}
	c.drawHours(x, 28, courseBottom, 42)
	for v := lo; v <= hi+step/2; v += step {
		c.line(courseLeft, y(v), courseRight, y(v), "grid")
		c.text("text", scaleWord(v), a("class", "hour"), a("x", courseLeft-8), a("y", y(v)+4), a("text-anchor", "end"), a("font-size", 12))
	}
	for _, l := range d.Courses {
		c.spread(x, y, d.Times, l)
	}
	for _, l := range d.Levels {
		c.line(courseLeft, y(l.Value), courseRight, y(l.Value), "limit")
		c.text("text", l.Name, a("class", "note"), a("x", courseLeft+6), a("y", y(l.Value)-4), a("font-size", 12))
	}
	for i, l := range d.Courses {
		c.void("path", a("class", strokeOf(i)), a("d", valuePath(x, y, d.Times, l.Values)), a("stroke-dasharray", dashes[i%len(dashes)]))
	}
	c.legend(d)
	return c.finish()
}

// legend names the lines in the margin.
func (c *canvas) legend(d CourseDrawing) {
	c.text("text", d.Unit, a("class", "row-detail"), a("x", courseLeft-8), a("y", 42), a("text-anchor", "end"), a("font-size", 12))
	for i, l := range d.Courses {
		at := courseTop + 12 + 24*float64(i)
		c.void("path", a("class", strokeOf(i)), a("d", fmt.Sprintf("M0 %sL32 %s", num(at-4), num(at-4))), a("stroke-dasharray", dashes[i%len(dashes)]))
		c.text("text", fitText(l.Name, 13, courseLeft-76), a("class", "name"), a("x", 40), a("y", at), a("font-size", 13))
	}
}

// strokeOf tells the lines beyond the dashes apart by a heavier stroke.
func strokeOf(i int) string {
	if i >= len(dashes) {
		return "curve heavy"
	}
	return "curve"
}

// spread draws the band within which a line is expected.
func (c *canvas) spread(x Axis, y func(float64) float64, times []time.Time, l Course) {
	if len(l.Low) != len(times) || len(l.High) != len(times) {
		return
	}
	for i := 0; i < len(times); {
		if !known(l.Low[i]) || !known(l.High[i]) || !x.holds(times[i]) {
			i++
			continue
		}
		j := i
		for j < len(times) && x.holds(times[j]) && known(l.Low[j]) && known(l.High[j]) {
			j++
		}
		var b strings.Builder
		for k := i; k < j; k++ {
			fmt.Fprintf(&b, "%s%s %s", map[bool]string{true: "M", false: "L"}[k == i], num(x.X(times[k])), num(y(l.High[k])))
		}
		for k := j - 1; k >= i; k-- {
			fmt.Fprintf(&b, "L%s %s", num(x.X(times[k])), num(y(l.Low[k])))
		}
		c.void("path", a("class", "spread"), a("d", b.String()+"Z"))
		i = j
	}
}

// valuePath is a line through the known values; a gap lifts the pen.
func valuePath(x Axis, y func(float64) float64, times []time.Time, values []float64) string {
	var b strings.Builder
	pen := false
	for i, t := range times {
		if i >= len(values) || !known(values[i]) || !x.holds(t) {
			pen = false
			continue
		}
		op := "L"
		if !pen {
			op = "M"
		}
		fmt.Fprintf(&b, "%s%s %s", op, num(x.X(t)), num(y(values[i])))
		pen = true
	}
	return b.String()
}

// scale is the range of the drawing and the step of its labels: round numbers,
// four to seven of them.
func (d CourseDrawing) scale() (lo, hi, step float64) {
	lo, hi = d.Least, d.Most
	take := func(v float64) {
		if known(v) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	for _, l := range d.Courses {
		for i, t := range d.Times {
			if t.Before(d.From) || t.After(d.To) {
				continue
			}
			for _, vs := range [][]float64{l.Values, l.Low, l.High} {
				if i < len(vs) {
					take(vs[i])
				}
			}
		}
	}
	for _, l := range d.Levels {
		take(l.Value)
	}
	if hi-lo < 1e-9 {
		hi = lo + 1
	}
	raw := (hi - lo) / 5
	mag := math.Pow(10, math.Floor(math.Log10(raw)))
	step = 10 * mag
	for _, m := range []float64{1, 2, 5} {
		if m*mag >= raw {
			step = m * mag
			break
		}
	}
	lo, hi = math.Floor(lo/step+1e-9)*step, math.Ceil(hi/step-1e-9)*step
	for _, l := range d.Levels {
		if hi-l.Value < step/2 { // its name stands above the line
			hi += step
			break
		}
	}
	return lo, hi, step
}

// known tells a number from a gap.
func known(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func scaleWord(v float64) string {
	s := strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0")
	if s == "-0" {
		s = "0"
	}
	return strings.Replace(s, "-", "−", 1)
}

// courseWords says in words what the drawing shows.
func courseWords(d CourseDrawing) string {
	var parts []string
	for _, l := range d.Courses {
		first, last := -1, -1
		for i, t := range d.Times {
			if i < len(l.Values) && known(l.Values[i]) && !t.Before(d.From) && !t.After(d.To) {
				if first < 0 {
					first = i
				}
				last = i
			}
		}
		if first < 0 {
			parts = append(parts, l.Name+" is not known")
			continue
		}
		parts = append(parts, fmt.Sprintf("%s goes from %.1f %s at %s to %.1f %s at %s", l.Name,
			l.Values[first], d.Unit, d.Times[first].In(d.Zone).Format("15:04"), l.Values[last], d.Unit, d.Times[last].In(d.Zone).Format("15:04")))
	}
	for _, l := range d.Levels {
		parts = append(parts, fmt.Sprintf("%s is marked at %.1f %s", l.Name, l.Value, d.Unit))
	}
	if len(parts) == 0 {
		return "Nothing is drawn."
	}
	return strings.Join(parts, "; ") + ". The numbers stand in the table below."
}
