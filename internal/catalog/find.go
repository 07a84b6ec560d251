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

// guide is a bright star with a name that a beginner can be sent to.
type guide struct {
	name, constellation string
	ra, dec, mag        float64
}

// readGuides reads the guide stars; a fault in the table is found by a test.
func readGuides() ([]guide, error) {
	rows, fault, err := readTable("guides.psv")
	if err != nil {
		return nil, err
	}
	guides := make([]guide, len(rows))
	for i, r := range rows {
		guides[i] = guide{r.text("name"), r.text("con"), r.number("ra", 0), r.number("dec", 0), r.number("mag", 0)}
	}
	return guides, *fault
}

var guideStars = sync.OnceValue(func() []guide {
	guides, err := readGuides()
	if err != nil {
		panic(err)
	}
	return guides
})

// findWords tells the way from the best guide star: near and bright, one
// magnitude weighing as much as two degrees.
func (l *Language) findWords(t Target) string {
	if t.Moves {
		return l.phrases.Find.Eye
	}
	var from guide
	best, away := math.Inf(1), 0.0
	for _, s := range guideStars() {
		if math.Abs(s.dec-t.Star.Dec)+2*s.mag > math.Min(best, 30) {
			continue // cannot be better
		}
		d := sky.Separation(s.ra, s.dec, t.Star.RA, t.Star.Dec)
		if cost := d + 2*s.mag; cost < best {
			from, best, away = s, cost, d
		}
	}
	if math.IsInf(best, 1) {
		return l.phrases.Find.Scope
	}

	book := l.phrases.Find
	where := l.constellation(from.constellation)
	toward := l.phrases.Directions[int(math.Round(sky.PositionAngle(from.ra, from.dec, t.Star.RA, t.Star.Dec)/45))%8]
	var way string
	switch {
	case away < 0.02:
		return fmt.Sprintf(book.Itself, from.name, where)
	case away < 0.5:
		way = fmt.Sprintf(book.Beside, from.name, where)
	case away >= 0.95 && away < 1.5:
		way = fmt.Sprintf(book.Degree, toward, from.name, where)
	case away < 4.5:
		way = fmt.Sprintf(book.Hop, l.rounded(away, 1), toward, from.name, where)
	case away < 7.5: // a fist at arm's length covers ten degrees
		way = fmt.Sprintf(book.Half, toward, from.name, where)
	case away < 12.5:
		way = fmt.Sprintf(book.Fist, toward, from.name, where)
	default:
		way = fmt.Sprintf(book.Fists, l.number(math.Round(away/5)/2, decimalsOf(math.Round(away/5)/2, 1)), toward, from.name, where)
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
