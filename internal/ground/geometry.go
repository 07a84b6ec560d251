package ground

import "math"

// Point is a place on the ground, m: X to the east, Y to the north of wherever
// the club measures from.
type Point struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

func (p Point) plus(q Point) Point       { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) minus(q Point) Point      { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) times(f float64) Point    { return Point{p.X * f, p.Y * f} }
func (p Point) dot(q Point) float64      { return p.X*q.X + p.Y*q.Y }
func (p Point) cross(q Point) float64    { return p.X*q.Y - p.Y*q.X }
func (p Point) distance(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// toward is the unit step in a direction, degrees from north through east.
func toward(bearing float64) Point {
	s, c := math.Sincos(bearing * math.Pi / 180)
	return Point{s, c}
}

// bearing is the direction from p to q, degrees from north through east.
func (p Point) bearing(q Point) float64 {
	d := q.minus(p)
	return math.Mod(math.Atan2(d.X, d.Y)*180/math.Pi+360, 360)
}

// segment is a straight piece between two points.
type segment struct{ a, b Point }

func (s segment) length() float64 { return s.a.distance(s.b) }

// nearest is the distance of a point from the segment.
func (s segment) nearest(p Point) float64 {
	d := s.b.minus(s.a)
	l := d.dot(d)
	if l == 0 {
		return p.distance(s.a)
	}
	t := math.Max(0, math.Min(1, p.minus(s.a).dot(d)/l))
	return p.distance(s.a.plus(d.times(t)))
}

// meets reports whether two segments have a point in common.
func (s segment) meets(t segment) bool {
	d, e := s.b.minus(s.a), t.b.minus(t.a)
	den := d.cross(e)
	w := t.a.minus(s.a)
	if math.Abs(den) < 1e-12 {
		if math.Abs(w.cross(d)) > 1e-9 {
			return false // parallel, apart
		}
		return s.nearest(t.a) < 1e-9 || s.nearest(t.b) < 1e-9 || t.nearest(s.a) < 1e-9
	}
	u, v := w.cross(e)/den, w.cross(d)/den
	return u >= 0 && u <= 1 && v >= 0 && v <= 1
}

// apart is the distance between two segments, 0 when they meet.
func (s segment) apart(t segment) float64 {
	if s.meets(t) {
		return 0
	}
	return min(s.nearest(t.a), s.nearest(t.b), t.nearest(s.a), t.nearest(s.b))
}

// sides are the segments of a line through points, closed when it is an area.
func sides(at []Point, closed bool) []segment {
	var out []segment
	for i := 1; i < len(at); i++ {
		out = append(out, segment{at[i-1], at[i]})
	}
	if closed && len(at) > 2 {
		out = append(out, segment{at[len(at)-1], at[0]})
	}
	if len(at) == 1 {
		out = []segment{{at[0], at[0]}}
	}
	return out
}

// inside reports whether a point lies in a polygon, by counting crossings.
func inside(p Point, polygon []Point) bool {
	in := false
	for i, j := 0, len(polygon)-1; i < len(polygon); j, i = i, i+1 {
		a, b := polygon[i], polygon[j]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < (b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y)+a.X {
			in = !in
		}
	}
	return in
}

// area of a polygon, m², and its centre of mass.
func area(polygon []Point) (float64, Point) {
	var sum float64
	var c Point
	for i := range polygon {
		p, q := polygon[i], polygon[(i+1)%len(polygon)]
		w := p.cross(q)
		sum += w
		c = c.plus(p.plus(q).times(w))
	}
	if math.Abs(sum) < 1e-9 {
		if len(polygon) == 0 {
			return 0, Point{}
		}
		return 0, polygon[0]
	}
	return math.Abs(sum) / 2, c.times(1 / (3 * sum))
}

// ray is how far from p, in a direction, the segment is met; false when it is
// not.
func (s segment) ray(p, dir Point) (float64, bool) {
	e := s.b.minus(s.a)
	den := dir.cross(e)
	if math.Abs(den) < 1e-12 {
		return 0, false
	}
	w := s.a.minus(p)
	t, u := w.cross(e)/den, w.cross(dir)/den
	return t, t >= 0 && u >= 0 && u <= 1
}

// apartDegrees is the angle between two directions, 0 to 180 degrees.
func apartDegrees(a, b float64) float64 {
	d := math.Abs(math.Mod(a-b, 360))
	return math.Min(d, 360-d)
}
