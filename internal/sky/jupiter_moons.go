package sky

import (
	"math"
	"time"
)

// galileanNames are Jupiter's four large moons, from the inside.
var galileanNames = [4]string{"Io", "Europa", "Ganymede", "Callisto"}

// jupiterSquash is equatorial / polar radius (IAU 2015: 71,492 and 66,854 km).
const jupiterSquash = 71492.0 / 66854

// MoonPlace is where one of Jupiter's large moons is seen.
type MoonPlace struct {
	Name     string
	X, Y     float64 // of the moon's middle, equatorial radii of Jupiter; X west, Y north along the axis
	Depth    float64 // the same unit; positive behind Jupiter
	InFront  bool    // in transit: before the disc
	Hidden   bool    // occulted by the disc
	Eclipsed bool    // in Jupiter's shadow, so dark
	// ShadowOn says that the moon's shadow lies on the visible disc, at
	// ShadowX, ShadowY.
	ShadowOn         bool
	ShadowX, ShadowY float64
}

// Visible says whether the moon can be seen beside the disc or, with enough
// aperture, before it.
func (m MoonPlace) Visible() bool { return !m.Hidden && !m.Eclipsed }

// JupiterMoons returns the places of Io, Europa, Ganymede and Callisto at t.
// Error, judged by how far another theory, E5, is from ours (see the tests):
// until 2030 within 0.002 (Io), 0.016, 0.010 and 0.013 radii (Callisto), until
// 2060 within 0.035.
func (n *Night) JupiterMoons(t time.Time) [4]MoonPlace {
	tt := ttOf(t)
	return moonPlaces(tt, jupiterSceneAt(tt))
}

// jupiterScene is what the moons' appearance depends on.
type jupiterScene struct {
	fromEarth vec3 // ICRS, au: to Jupiter when the light left it
	fromSun   vec3
	pole      vec3
}

func jupiterSceneAt(tt float64) jupiterScene {
	v := astrometric(Jupiter, tt)
	earth, _ := earthHeliocentric(tt)
	return jupiterScene{
		fromEarth: v,
		fromSun:   v.add(earth),
		pole:      Jupiter.pole(tt),
	}
}

// discView is the projection of Jupiter's surroundings seen along a direction.
type discView struct {
	away, west, north vec3
	distance          float64 // equatorial radii
}

func newDiscView(toJupiter, pole vec3) discView {
	u := toJupiter.unit()
	north := pole.sub(u.scale(pole.dot(u))).unit()
	return discView{
		away: u, north: north, west: u.cross(north),
		distance: toJupiter.norm() * auKM / Jupiter.radiusKM(),
	}
}

// project returns where a place (radii from Jupiter's middle) is seen. What is
// nearer looks further from the middle, under 0.1 percent.
func (d discView) project(p vec3) (x, y, depth float64) {
	depth = p.dot(d.away)
	near := d.distance / (d.distance + depth)
	return p.dot(d.west) * near, p.dot(d.north) * near, depth
}

// onDisc is negative inside the outline of the flattened disc, positive outside.
func onDisc(x, y float64) float64 {
	y *= jupiterSquash
	return x*x + y*y - 1
}

func moonPlaces(tt float64, s jupiterScene) [4]MoonPlace {
	var places [4]MoonPlace
	earth, sun := newDiscView(s.fromEarth, s.pole), newDiscView(s.fromSun, s.pole)
	for i, p := range galileans(tt-s.fromEarth.norm()*lightDays, earth.away) {
		m := MoonPlace{Name: galileanNames[i]}
		m.X, m.Y, m.Depth = earth.project(p)
		inside := onDisc(m.X, m.Y) < 0
		m.InFront = inside && m.Depth < 0
		m.Hidden = inside && m.Depth > 0

		x, y, depth := sun.project(p)
		shaded := onDisc(x, y) < 0
		m.Eclipsed = shaded && depth > 0
		if shaded && depth < 0 {
			spot := shadowSpot(p, sun, s.pole)
			m.ShadowX, m.ShadowY, _ = earth.project(spot)
			m.ShadowOn = surfaceNormal(spot, s.pole).dot(earth.away) < 0
		}
		places[i] = m
	}
	return places
}

// shadowSpot is where the ray from the Sun through p meets Jupiter's spheroid;
// p lies on the Sun's side and projects inside the outline.
func shadowSpot(p vec3, sun discView, pole vec3) vec3 {
	// Stretched along the pole the spheroid is a unit sphere.
	stretch := func(v vec3) vec3 { return v.add(pole.scale(v.dot(pole) * (jupiterSquash - 1))) }
	ray := sun.away.add(p.scale(1 / sun.distance)).unit() // the Sun's rays spread
	a, b := stretch(ray), stretch(p)
	aa, ab, bb := a.dot(a), a.dot(b), b.dot(b)
	root := math.Sqrt(math.Max(0, ab*ab-aa*(bb-1)))
	return p.add(ray.scale((-ab - root) / aa))
}

// surfaceNormal is the outward normal of the spheroid at p, not of unit length.
func surfaceNormal(p, pole vec3) vec3 {
	return p.add(pole.scale(p.dot(pole) * (jupiterSquash*jupiterSquash - 1)))
}
