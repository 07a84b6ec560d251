package lineup

import "duskboard/internal/assign"

// effort gives a large club the longer search that its many showings need: two
// million steps, about 25 ms, for each instrument when there are over a dozen.
func effort(p *assign.Problem) assign.Options {
	if n := len(p.Agents); n > 12 {
		return assign.Options{Work: int64(n) * 2_000_000}
	}
	return assign.Options{}
}
