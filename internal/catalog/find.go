package catalog

import (
	"fmt"
	"math"
	"sync"

	"duskboard/internal/sky"
)

// findBook has the sentences of how to find something. Formats: see findWords.
type findBook struct {
	Beside string `json:"beside"` // star, constellation
	Degree string `json:"degree"` // one degree: direction, star, constellation
	Hop    string `json:"hop"`    // degrees, direction, star, constellation
	Half   string `json:"half"`   // half a fist at arm's length: direction, star, constellation
	Fist   string `json:"fist"`   // one fist: direction, star, constellation
	Fists  string `json:"fists"`  // fists, direction, star, constellation
	Itself string `json:"itself"` // star, constellation: the target is a bright star
	Eye    string `json:"eye"`
	Finder string `json:"finder"`
	Scope  string `json:"scope"`
}

// guideStars are the bright stars with a name that a beginner can be sent to.
var guideStars = sync.OnceValue(func() []StarRow {
	var guides []StarRow
	for _, s := range Stars() {
		if s.Mag > 2.9 {
			break
		}
		if s.Name != "" {
			guides = append(guides, s)
		}
	}
	return guides
})

// findWords tells the way from the best guide star: near and bright, one
// magnitude weighing as much as two degrees.
func (l *Language) findWords(t Target) string {
	if t.Moves {
		return l.phrases.Find.Eye
	}
	var guide StarRow
	best, away := math.Inf(1), 0.0
	for _, s := range guideStars() {
		if math.Abs(s.Dec-t.Star.Dec) > 30 {
			continue
		}
		d := sky.Separation(s.RA, s.Dec, t.Star.RA, t.Star.Dec)
		if cost := d + 2*s.Mag; cost < best {
			guide, best, away = s, cost, d
		}
	}
	if math.IsInf(best, 1) {
		return l.phrases.Find.Scope
	}

	book := l.phrases.Find
	where := l.constellation(guideConstellation(guide))
	toward := l.phrases.Directions[int(math.Round(sky.PositionAngle(guide.RA, guide.Dec, t.Star.RA, t.Star.Dec)/45))%8]
	var way string
	switch {
	case away < 0.02:
		return fmt.Sprintf(book.Itself, guide.Name, where)
	case away < 0.5:
		way = fmt.Sprintf(book.Beside, guide.Name, where)
	case away >= 0.95 && away < 1.5:
		way = fmt.Sprintf(book.Degree, toward, guide.Name, where)
	case away < 4.5:
		way = fmt.Sprintf(book.Hop, l.rounded(away, 1), toward, guide.Name, where)
	case away < 7.5: // a fist at arm's length covers ten degrees
		way = fmt.Sprintf(book.Half, toward, guide.Name, where)
	case away < 12.5:
		way = fmt.Sprintf(book.Fist, toward, guide.Name, where)
	default:
		way = fmt.Sprintf(book.Fists, l.number(math.Round(away/5)/2, decimalsOf(math.Round(away/5)/2, 1)), toward, guide.Name, where)
	}
	return way + " " + l.aid(t)
}

// aid says what shows it from a fair site: a surface brighter than about 22.5
// and the limits of eye and finder, common practice.
func (l *Language) aid(t Target) string {
	book := l.phrases.Find
	dim := t.Brightness > 22.5 || math.IsNaN(t.Magnitude)
	switch {
	case t.Reach == ReachEye || t.Magnitude < 4.8 && !dim:
		return book.Eye
	case t.Magnitude < 7.8 && !dim:
		return book.Finder
	}
	return book.Scope
}

// guideConstellation is the constellation of a star by its designation.
func guideConstellation(s StarRow) string {
	if n := len(s.Designation); n >= 3 {
		return s.Designation[n-3:]
	}
	return ""
}
