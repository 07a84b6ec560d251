package chart

import (
	"math"

	"duskboard/internal/optics"
)

const degree = math.Pi / 180

// Point is a place on the sky: right ascension and declination of one equinox
// or azimuth and altitude, degrees.
type Point struct{ Lon, Lat float64 }

// offset returns how far a place lies east and north of the middle of a
// picture on the tangent plane, in degrees of the middle; false for a place
// more than 80 degrees away.
func offset(middle, p Point) (east, north float64, ok bool) {
	sd, cd := math.Sincos(p.Lat * degree)
	s0, c0 := math.Sincos(middle.Lat * degree)
	sa, ca := math.Sincos((p.Lon - middle.Lon) * degree)
	toward := s0*sd + c0*cd*ca
	if toward < 0.17 {
		return 0, 0, false
	}
	return cd * sa / toward / degree, (c0*sd - s0*cd*ca) / toward / degree, true
}

// disc maps the sky into a round picture: places by tangent plane, turned and
// mirrored as an orientation says.
type disc struct {
	middle Point
	o      optics.Orientation
	cx, cy float64 // of the middle on the drawing, pt
	scale  float64 // pt a degree
}

// at returns where a place lies on the drawing.
func (d disc) at(p Point) (x, y float64, ok bool) {
	east, north, ok := offset(d.middle, p)
	x, y = d.put(east, north)
	return x, y, ok
}

// put returns where an offset in degrees lies on the drawing.
func (d disc) put(east, north float64) (x, y float64) {
	se, ce := math.Sincos(d.o.East * degree)
	sn, cn := math.Sincos(d.o.North * degree)
	return d.cx + d.scale*(east*se+north*sn), d.cy - d.scale*(east*ce+north*cn)
}

// ray returns a point at a distance in pt from the middle in a direction,
// degrees clockwise from the top.
func (d disc) ray(angle, r float64) (x, y float64) {
	s, c := math.Sincos(angle * degree)
	return d.cx + r*s, d.cy - r*c
}
