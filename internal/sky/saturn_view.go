package sky

import (
	"math"
	"time"
)

// ringRadiusKM is the outer edge of Saturn's ring A (NASA Planetary Data
// System, Ring-Moon Systems Node: 136,775 km).
const ringRadiusKM = 136775

// saturnFlattening is 1 - polar/equatorial radius (IAU 2015: 54,364 and 60,268 km).
const saturnFlattening = 1 - 54364.0/60268.0

// SaturnView is Saturn with its rings and its brightest moon.
type SaturnView struct {
	PlanetView
	SunTilt      float64   // latitude of the Sun above the ring, degrees, north positive
	RingDark     bool      // Earth and Sun on opposite sides: the unlit side is turned to us
	PoleAngle    float64   // position angle of the north pole and the ring's minor axis, degrees, 0 to 360
	RingMajor    float64   // outer diameter of ring A along, arcseconds
	RingMinor    float64   // and across, arcseconds
	PolarSize    float64   // diameter of the globe from pole to pole as seen, arcseconds
	RingBehind   bool      // north of the globe lies the far part of the ring (Earth north of its plane)
	Titan        TitanView // the moon to look for in a small instrument
	GlobeInRings bool      // the ring's narrow side is at least as wide as the globe
}

// TitanView is Titan's place beside Saturn.
type TitanView struct {
	X, Y          float64 // equatorial radii of Saturn; X west, Y north along the pole
	Separation    float64 // arcseconds from the middle of the globe
	PositionAngle float64 // degrees from north through east, 0 to 360
	Magnitude     float64 // V, mean opposition value brought to the distance, within 0.2
}

// Saturn returns Saturn at t as seen from the Earth's centre.
func (n *Night) Saturn(t time.Time) SaturnView { return saturnView(ttOf(t)) }

func saturnView(tt float64) SaturnView {
	v := astrometric(Saturn, tt)
	fromSun := v.sub(astrometric(Sun, tt))
	pole := Saturn.pole(tt)
	s := SaturnView{PlanetView: planetView(Saturn, tt)}

	s.SunTilt = subLatitude(pole, fromSun)
	s.RingDark = s.RingTilt*s.SunTilt < 0
	f := frameOf(tt)
	s.PoleAngle = axisAngle(f.fromICRS.mul(pole), f.fromICRS.mul(v))

	sinTilt := math.Abs(math.Sin(s.RingTilt * radian))
	s.RingMajor = s.RingDiameter
	s.RingMinor = s.RingDiameter * sinTilt
	s.RingBehind = s.RingTilt > 0
	// The outline of a flattened globe seen at a latitude (an ellipsoid's shadow).
	squash := 1 - saturnFlattening
	s.PolarSize = s.Diameter * math.Sqrt(sinTilt*sinTilt+squash*squash*(1-sinTilt*sinTilt))
	s.GlobeInRings = s.RingMinor >= s.PolarSize
	s.Titan = titanView(tt, v, pole, s)
	return s
}

func titanView(tt float64, v, pole vec3, s SaturnView) TitanView {
	m := titan(tt - v.norm()*lightDays)
	u := v.unit()
	north := pole.sub(u.scale(pole.dot(u))).unit()
	west := u.cross(north)

	// Nearer than the globe it looks larger by this part (under 0.1 percent).
	depth := m.dot(u) * Saturn.radiusKM() / auKM
	near := s.Distance / (s.Distance + depth)
	t := TitanView{X: m.dot(west) * near, Y: m.dot(north) * near}
	t.Separation = math.Hypot(t.X, t.Y) * s.Diameter / 2
	t.PositionAngle = math.Mod(s.PoleAngle+math.Atan2(-t.X, t.Y)*degree+720, 360)
	// V(1,0) = -1.28: Harris 1961 in Kuiper & Middlehurst, Planets and Satellites.
	t.Magnitude = -1.28 + 5*math.Log10(s.Distance*s.SunDistance)
	return t
}
