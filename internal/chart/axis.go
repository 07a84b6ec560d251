package chart

import "time"

// Axis is a stretch of time drawn from left to right.
type Axis struct {
	From, To time.Time
	Zone     *time.Location // for the labels
	Left     float64        // x of From
	Right    float64        // x of To
}

// X returns where an instant lies; instants outside are clamped to the ends.
func (x Axis) X(t time.Time) float64 {
	span := x.To.Sub(x.From).Seconds()
	if span <= 0 {
		return x.Left
	}
	f := t.Sub(x.From).Seconds() / span
	f = min(max(f, 0), 1)
	return x.Left + f*(x.Right-x.Left)
}

// holds reports whether an instant lies on the axis.
func (x Axis) holds(t time.Time) bool { return !t.Before(x.From) && !t.After(x.To) }

// ticks returns the instants to label: whole or half hours of the site's
// clock, at least minGap apart in drawing units. Steps are taken in true time,
// so that a clock change neither drops nor doubles an hour.
func (x Axis) ticks(minGap float64) []time.Time {
	span := x.To.Sub(x.From)
	if span <= 0 {
		return nil
	}
	step := 30 * time.Minute
	for _, s := range []time.Duration{15 * time.Minute, 30 * time.Minute, time.Hour, 2 * time.Hour, 3 * time.Hour, 6 * time.Hour} {
		step = s
		if (x.Right-x.Left)*float64(s)/float64(span) >= minGap {
			break
		}
	}
	local := x.From.In(x.Zone)
	_, offset := local.Zone()
	// The first tick: the next multiple of the step on the local clock.
	wall := x.From.Unix() + int64(offset)
	s := int64(step / time.Second)
	first := x.From.Add(time.Duration((s-wall%s)%s) * time.Second)
	var out []time.Time
	for t := first; !t.After(x.To); t = t.Add(step) {
		out = append(out, t)
	}
	return out
}

// Band is a stretch of the sky's light: day, the three twilights, dark.
type Band struct {
	From, To time.Time
	Name     string
	Level    int // 0 Sun up, 1 civil, 2 nautical, 3 astronomical twilight, 4 dark
}

// drawSky draws the bands of light as the top line of a time axis.
func (c *canvas) drawSky(x Axis, bands []Band, y, h float64) {
	for _, b := range bands {
		x1, x2 := x.X(b.From), x.X(b.To)
		if x2-x1 < 0.5 {
			continue
		}
		c.void("rect", a("class", "sky"+string(rune('0'+b.Level))), a("x", x1), a("y", y), a("width", x2-x1), a("height", h))
		if label := fitText(b.Name, 12, x2-x1-10); label != "" {
			c.text("text", label, a("class", "sky-name sky-name"+string(rune('0'+b.Level))), a("x", x1+6), a("y", y+h/2+4), a("font-size", 12))
		}
	}
}

// drawHours draws the labelled hours and their fine lines.
func (c *canvas) drawHours(x Axis, top, bottom, labelY float64) {
	for _, t := range x.ticks(56) {
		px := x.X(t)
		c.line(px, top, px, bottom, "grid")
		anchor := "middle"
		if px-x.Left < 16 {
			anchor = "start"
		} else if x.Right-px < 16 {
			anchor = "end"
		}
		c.text("text", t.In(x.Zone).Format("15:04"), a("class", "hour"), a("x", px), a("y", labelY), a("text-anchor", anchor), a("font-size", 12))
	}
}
