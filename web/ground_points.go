package web

import (
	"fmt"
	"strings"

	"duskboard/internal/ground"
	"duskboard/internal/kit"
)

// parsePoints reads places on the ground: "12 3; 59 3", pairs of metres east
// and metres north, parted by semicolons or line ends.
func parsePoints(text string) ([]ground.Point, error) {
	var out []ground.Point
	pairs := strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' || r == '\r' })
	for _, pair := range pairs {
		f := strings.Fields(strings.NewReplacer("(", " ", ")", " ").Replace(pair))
		if len(f) == 0 {
			continue
		}
		if len(f) != 2 {
			return nil, fmt.Errorf("%s is no point: metres east, a space, metres north", quoted(strings.TrimSpace(pair)))
		}
		var p ground.Point
		for i, v := range []*float64{&p.X, &p.Y} {
			x, err := kit.ParseNumber(strings.TrimRight(f[i], ","))
			if err != nil {
				return nil, fmt.Errorf("%s is no number of metres", quoted(f[i]))
			}
			*v = x
		}
		out = append(out, p)
		if len(out) > ground.MostCorners {
			return nil, fmt.Errorf("at most %d points", ground.MostCorners)
		}
	}
	return out, nil
}

// printPoints writes what parsePoints reads; between stands between pairs.
func printPoints(at []ground.Point, between string) string {
	var s []string
	for _, p := range at {
		s = append(s, number(p.X, 2)+" "+number(p.Y, 2))
	}
	return strings.Join(s, between)
}
