package sky

import "math"

// vec3 is a vector in a right-handed frame: x to right ascension 0, z to the
// north pole of the frame.
type vec3 struct{ X, Y, Z float64 }

func (a vec3) add(b vec3) vec3      { return vec3{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }
func (a vec3) sub(b vec3) vec3      { return vec3{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }
func (a vec3) scale(f float64) vec3 { return vec3{a.X * f, a.Y * f, a.Z * f} }
func (a vec3) dot(b vec3) float64   { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a vec3) norm() float64        { return math.Sqrt(a.dot(a)) }
func (a vec3) unit() vec3           { return a.scale(1 / a.norm()) }
func (a vec3) spherical() (lon, lat float64) { // radians; lon in 0..2pi
	lon = math.Atan2(a.Y, a.X)
	if lon < 0 {
		lon += 2 * math.Pi
	}
	return lon, math.Atan2(a.Z, math.Hypot(a.X, a.Y))
}

func (a vec3) cross(b vec3) vec3 {
	return vec3{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// direction returns the unit vector to a longitude and latitude in radians.
func direction(lon, lat float64) vec3 {
	sl, cl := math.Sincos(lon)
	sb, cb := math.Sincos(lat)
	return vec3{cb * cl, cb * sl, sb}
}

// mat3 is a rotation: row by row.
type mat3 [3]vec3

func (m mat3) mul(v vec3) vec3 { return vec3{m[0].dot(v), m[1].dot(v), m[2].dot(v)} }

// transposed is the inverse rotation.
func (m mat3) transposed() mat3 {
	return mat3{
		{m[0].X, m[1].X, m[2].X},
		{m[0].Y, m[1].Y, m[2].Y},
		{m[0].Z, m[1].Z, m[2].Z},
	}
}

func (m mat3) times(n mat3) mat3 {
	t := n.transposed()
	return mat3{
		{m[0].dot(t[0]), m[0].dot(t[1]), m[0].dot(t[2])},
		{m[1].dot(t[0]), m[1].dot(t[1]), m[1].dot(t[2])},
		{m[2].dot(t[0]), m[2].dot(t[1]), m[2].dot(t[2])},
	}
}

// rotX turns the axes by angle (radians) about x; rotZ about z.
func rotX(angle float64) mat3 {
	s, c := math.Sincos(angle)
	return mat3{{1, 0, 0}, {0, c, s}, {0, -s, c}}
}

func rotZ(angle float64) mat3 {
	s, c := math.Sincos(angle)
	return mat3{{c, s, 0}, {-s, c, 0}, {0, 0, 1}}
}
