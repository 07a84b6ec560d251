package catalog

import "math"

// SurfaceBrightness is the mean surface brightness, magnitudes per square
// arcsecond, of an ellipse of a by b arcminutes and integrated magnitude m:
// m + 2.5 log10(pi/4 a b 3600), and 2.5 log10(3600 pi/4) = 8.63. NaN when the
// size or the magnitude is not known.
func SurfaceBrightness(m, a, b float64) float64 {
	if !(a > 0) || !(b > 0) {
		return math.NaN()
	}
	return m + 2.5*math.Log10(a*b) + 8.63
}

// delightOf is how much guests like a target of a kind, 0 to 1, where its table
// row does not say. Common practice of outreach, as far as a number can hold it:
// what is bright, has shape or colour and needs no explaining comes first (the
// Moon, Saturn, a coloured pair); what is a grey patch even in a large
// telescope comes last. Within a kind the brighter is the more liked: 0.04 less
// for each magnitude beyond what a beginner sees without help.
func delightOf(k Kind, magnitude float64) float64 {
	base, easy := 0.3, 6.0
	switch k {
	case KindSun:
		return 0.85
	case KindMoon:
		return 1
	case KindPlanet, KindComet:
		return 0.6
	case KindMinorPlanet:
		return 0.2
	case KindOpen:
		base, easy = 0.45, 5
	case KindGlobular:
		base, easy = 0.5, 6
	case KindNebula, KindRemnant:
		base, easy = 0.35, 6
	case KindPlanetary:
		base, easy = 0.45, 8
	case KindGalaxy:
		base, easy = 0.3, 8
	case KindDouble:
		base, easy = 0.4, 4
	case KindCarbon, KindVariable, KindStar:
		base, easy = 0.4, 5
	case KindAsterism, KindCloud:
		base, easy = 0.4, 4
	case KindDark:
		return 0.2
	case KindOther:
		return 0.3
	}
	if magnitude > easy {
		base -= 0.04 * (magnitude - easy)
	}
	return math.Max(0.05, math.Round(base*100)/100)
}
