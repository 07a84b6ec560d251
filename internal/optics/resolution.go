package optics

import "math"

// Dawes returns the Dawes limit in arcseconds for an aperture in mm: 116/D,
// for equal yellowish stars near magnitude 6 in good seeing (Dawes 1867, Mem.
// RAS 35, 137).
func Dawes(aperture float64) float64 { return 116 / aperture }

// Rayleigh returns 1.22 wavelengths over the aperture (mm) at 550 nm, in
// arcseconds.
func Rayleigh(aperture float64) float64 { return 1.22 * 550e-6 / aperture * degree * 3600 }

// DriftSeconds returns how many seconds of time an object at the declination
// takes to cross a field of fieldDeg degrees through its centre while the
// instrument stands still. Sidereal rate 15.0411 arcseconds a second; +Inf at
// the poles, where nothing moves.
func DriftSeconds(fieldDeg, decDeg float64) float64 {
	c := math.Cos(decDeg / degree)
	if c < 1e-9 {
		return math.Inf(1)
	}
	return fieldDeg * 3600 / (SiderealRate * c)
}

// SiderealRate is the turn of the sky in arcseconds a second: a full turn in
// 86164.09 s.
const SiderealRate = 360 * 3600 / 86164.09

// Shares of the drift time that serve guests between two nudges.
const (
	DriftShareAny    = 0.7 // started near one edge, stopped before the other
	DriftSharePlanet = 0.5 // a planet is kept in the middle half, where it is sharp
)

// ContrastLoss is what a central obstruction does to the picture of a star in
// perfect optics.
type ContrastLoss struct {
	AiryEnergy float64 // share of the light within the first dark ring; 0.838 without obstruction
	FirstRing  float64 // peak of the first bright ring over the central peak
	DarkRing   float64 // radius of the first dark ring, wavelengths over aperture
	LightLoss  float64 // magnitudes
}

// Obstructed computes the loss for an obstruction eps (diameter over
// aperture, 0 to below 1) from the diffraction pattern of a ring-shaped
// opening, by numerical integration.
//
// The folk rule "effective aperture = aperture minus obstruction" has no
// basis in theory and is not used.
func Obstructed(eps float64) ContrastLoss {
	eps = math.Min(math.Max(eps, 0), 0.95)
	// The first zero: the amplitude is positive at the centre and falls.
	lo, hi := 0.5, 1.3
	for range 60 {
		if mid := (lo + hi) / 2; ringAmplitude(mid, eps) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	dark := (lo + hi) / 2
	ring := 0.0
	for r := dark; r < dark+1.2; r += 0.002 {
		ring = math.Max(ring, square(ringAmplitude(r, eps)))
	}
	return ContrastLoss{
		AiryEnergy: energyWithin(dark, eps),
		FirstRing:  ring,
		DarkRing:   dark,
		LightLoss:  -2.5 * math.Log10(1-eps*eps),
	}
}

// ringAmplitude is the amplitude at radius r (wavelengths over aperture) of a
// ring-shaped opening, 1 in the centre.
func ringAmplitude(r, eps float64) float64 {
	return (jinc(math.Pi*r) - eps*eps*jinc(math.Pi*r*eps)) / (1 - eps*eps)
}

// jinc is 2 J1(x)/x, 1 at 0.
func jinc(x float64) float64 {
	if math.Abs(x) < 1e-8 {
		return 1
	}
	return 2 * math.J1(x) / x
}

// energyWithin integrates the intensity over the circle of radius r by
// Simpson's rule; the total is 4/(pi (1 - eps^2)) in these units (Parseval).
func energyWithin(r, eps float64) float64 {
	const steps = 400
	h, sum := r/steps, 0.0
	for n := 0; n <= steps; n++ {
		w := 2.0
		switch {
		case n == 0 || n == steps:
			w = 1
		case n%2 == 1:
			w = 4
		}
		x := float64(n) * h
		sum += w * square(ringAmplitude(x, eps)) * 2 * math.Pi * x
	}
	total := 4 / (math.Pi * (1 - eps*eps))
	return sum * h / 3 / total
}

// ContrastTransfer returns how much of the contrast of a striped pattern
// reaches the picture, 0 to 1, for a spatial frequency as a share of the
// cut-off (aperture over wavelength) and an obstruction eps: the
// autocorrelation of a ring, from overlaps of circles.
func ContrastTransfer(frequency, eps float64) float64 {
	if frequency >= 1 || frequency < 0 {
		return 0
	}
	eps = math.Min(math.Max(eps, 0), 0.95)
	area := overlap(1, 1, frequency*2) - 2*overlap(1, eps, frequency*2) + overlap(eps, eps, frequency*2)
	return area / (math.Pi * (1 - eps*eps))
}

// overlap is the area shared by circles of radius a and b, centres d apart.
func overlap(a, b, d float64) float64 {
	if b > a {
		a, b = b, a
	}
	switch {
	case b <= 0 || d >= a+b:
		return 0
	case d <= a-b:
		return math.Pi * b * b
	}
	x := (d*d + a*a - b*b) / (2 * d)
	y := math.Sqrt(math.Max(0, a*a-x*x))
	return a*a*math.Atan2(y, x) + b*b*math.Atan2(y, d-x) - d*y
}

func square(x float64) float64 { return x * x }
