package vision

import (
	"fmt"
	"math"

	"duskboard/internal/catalog"
	"duskboard/internal/optics"
)

// Splitting is whether a train splits a double star for a guest.
type Splitting struct {
	Limit         float64 // closest pair of these magnitudes that the train splits, arcseconds (Lord)
	Seeing        float64 // FWHM used, arcseconds
	SeeingAssumed bool    // it was unknown
	Least         float64 // magnification at which the pair looks 2.5 arcminutes apart, times
	Comfortable   float64 // 4 arcminutes, times
	Apart         float64 // how far apart it looks, arcminutes
	Grade         Grade
	Weakest       string // what limits it: "aperture", "seeing", "magnification", "companion", "field"; "" when obvious
	Sentence      string
}

// Lord's indices. n is the sum of three: aperture, obstruction and seeing
// (that it is the sum is from memory).
func lordIndex(aperture, obstruction, seeing float64) float64 {
	n := 0.5
	switch {
	case aperture < 75:
		n = 4
	case aperture <= 150:
		n = 3
	case aperture <= 300:
		n = 2
	case aperture <= 450:
		n = 1
	}
	return n + obstructionIndex(obstruction) + seeingIndex(seeing)
}

// obstructionIndex lies in proportion between the rows of Lord's table.
func obstructionIndex(eps float64) float64 {
	rows := []struct{ eps, n float64 }{{0, 4}, {0.1, 3}, {0.2, 2}, {0.33, 1.5}, {0.4, 1}, {0.5, 0.5}}
	for i := 1; i < len(rows); i++ {
		if a, b := rows[i-1], rows[i]; eps <= b.eps {
			f := math.Max(0, eps-a.eps) / (b.eps - a.eps)
			return a.n + f*(b.n-a.n)
		}
	}
	return 0.5
}

// Antoniadi returns the class of seeing, 1 (perfect) to 5, for a FWHM in
// arcseconds; common practice.
func Antoniadi(seeing float64) int {
	for n, up := range []float64{1, 1.7, 2.5, 3.5} {
		if seeing <= up {
			return n + 1
		}
	}
	return 5
}

func seeingIndex(seeing float64) float64 {
	return [...]float64{4, 3, 2, 1, 0.5}[Antoniadi(seeing)-1]
}

// LordLimit returns the closest separation in arcseconds at which a pair dm
// magnitudes unequal is split: 1.033 10^((|dm| - 0.1)/n) (116/D) (C. Lord
// 1994, A Report on the Analysis of the Telescopic Resolution of Unequal
// Binaries, Brayebrook Observatory). aperture in mm, seeing FWHM in
// arcseconds. Not for companions within 2.4 mag of the telescope's limit.
func LordLimit(dm, aperture, obstruction, seeing float64) float64 {
	n := lordIndex(aperture, obstruction, seeing)
	return 1.033 * math.Pow(10, (math.Abs(dm)-0.1)/n) * optics.Dawes(aperture)
}

// How far apart, in arcminutes, a pair must look. The eye splits at 2 to 2.5
// (Argyle, Observing and Measuring Visual Double Stars); guests want 4 to 5.
const (
	apartLeast       = 2.5
	apartComfortable = 4.0
	apartObvious     = 5.0
	apartPrettiest   = 12.5 // about 750/separation times; a magazine's rule
)

// PairPowers returns the magnifications at which a pair of that separation in
// arcseconds is just split, comfortable and prettiest.
func PairPowers(separation float64) (least, comfortable, prettiest float64) {
	return apartLeast * 60 / separation, apartComfortable * 60 / separation, apartPrettiest * 60 / separation
}

// pairRule says how many times its limits a pair must be apart for a grade:
// over Lord's limit, over the seeing's FWHM, and in arcminutes as seen. The
// middle row is the rule for the public; in moments of calm the air lets
// through pairs down to 0.7 of its FWHM (from memory).
var pairRules = []struct {
	grade                Grade
	aperture, seen, view float64
}{
	{Obvious, 2.5, 2.5, apartObvious},
	{ByMost, 1.5, 1.5, apartComfortable},
	{Patience, 1.0, 0.7, apartLeast},
}

// companionRoom is how many magnitudes above the limit a companion must stand
// for Lord's formula to hold.
const companionRoom = 2.4

// Split judges a double star in a train: seeing FWHM in arcseconds (0 or less
// unknown), companion the margin in magnitudes of the fainter star by itself
// (Sight.Star).
func Split(d catalog.Double, o optics.Optics, seeing, companion float64) Splitting {
	s := Splitting{Seeing: seeing, Grade: NotShown}
	if !(seeing > 0) {
		s.Seeing, s.SeeingAssumed = optics.AverageSeeing, true
	}
	if !(d.Separation > 0) {
		s.Weakest, s.Sentence = "aperture", "No separation is known."
		return s
	}
	s.Limit = LordLimit(d.MagA-d.MagB, o.Aperture, o.Obstruction, s.Seeing)
	s.Least, s.Comfortable, _ = PairPowers(d.Separation)
	s.Apart = d.Separation * o.Magnification / 60
	for _, r := range pairRules {
		weakest := ""
		switch {
		case d.Separation < r.aperture*s.Limit:
			weakest = "aperture"
		case d.Separation < r.seen*s.Seeing:
			weakest = "seeing"
		case s.Apart < r.view:
			weakest = "magnification"
		}
		if weakest == "" {
			s.Grade = r.grade
			break
		}
		s.Weakest = weakest
	}
	s.companion(companion)
	if o.TrueField > 0 && d.Separation > 0.8*o.TrueField*3600 {
		s.Grade, s.Weakest = NotShown, "field"
	}
	s.Sentence = s.words(d, o)
	return s
}

func (s *Splitting) companion(margin float64) {
	g := GradeOf(margin)
	if margin < companionRoom {
		g = g.Lower(ByMost) // glare is judged too kindly so near the limit
	}
	if g.rank() < s.Grade.rank() {
		s.Grade, s.Weakest = g, "companion"
	}
}

func (s *Splitting) words(d catalog.Double, o optics.Optics) string {
	pair := fmt.Sprintf("%.1f″ apart", d.Separation)
	looks := fmt.Sprintf("%s, at %.0f× as wide as %.0f′", pair, o.Magnification, s.Apart)
	switch {
	case s.Grade == Obvious:
		return looks + ": split at a glance."
	case s.Grade == ByMost && s.Weakest != "companion":
		return looks + ": splits well."
	case s.Weakest == "field":
		return pair + ": wider than the field."
	case s.Weakest == "companion":
		return looks + ": the companion is faint."
	case s.Weakest == "magnification":
		return fmt.Sprintf("%s: wants %.0f×, this gives %.0f×.", pair, math.Ceil(s.Comfortable), o.Magnification)
	case s.Weakest == "seeing":
		return fmt.Sprintf("%s: tonight's air blurs %.1f″.", pair, s.Seeing)
	}
	return fmt.Sprintf("%s: this aperture splits such a pair from %.1f″.", pair, s.Limit)
}
