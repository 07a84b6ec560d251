package lineup

import "duskboard/internal/optics"

// piece is a piece of gear with how many of it the club owns.
type piece struct {
	gear  gear
	units int
	name  string
}

// of reports whether a showing uses the piece.
func (g gear) of(in *Input, s Showing) bool {
	switch g.kind {
	case 'e':
		return s.EyepieceID == g.id
	case 'a':
		return s.AmplifierID == g.id
	case 'd':
		return in.looseDiagonal(s) == g.id
	case 'f':
		return s.FilterID == g.id
	}
	return false
}

// piecesOf lists the shared gear of a train.
func piecesOf(tr optics.Train) []piece {
	var out []piece
	if e := tr.Eyepiece; e != nil {
		out = append(out, piece{gear{'e', e.ID}, max(e.Count, 1), e.Name})
	}
	if x := tr.Amplifier; x != nil {
		out = append(out, piece{gear{'a', x.ID}, max(x.Count, 1), x.Name})
	}
	if d := tr.Diagonal; d != nil && d.ForID == 0 {
		out = append(out, piece{gear{'d', d.ID}, max(d.Count, 1), d.Name})
	}
	if f := tr.Filter; f != nil {
		out = append(out, piece{gear{'f', f.ID}, max(f.Count, 1), f.Name})
	}
	return out
}

// wanted counts, for every piece of gear, the instruments that might use it.
func (mo *model) wanted() map[gear]int {
	out := map[gear]int{}
	for ii := range mo.in.Kit.Instruments {
		mine := map[gear]bool{}
		for ti := range mo.in.Targets {
			for _, tr := range mo.m.Cell(ii, ti).Tracks {
				for _, p := range piecesOf(mo.m.Trains[ii][tr.Train]) {
					if !mine[p.gear] {
						mine[p.gear] = true
						out[p.gear]++
					}
				}
			}
		}
	}
	return out
}

// scarce reports whether any piece of a train may be wanted in more places
// than there are pieces; only then do second and third choices matter, and
// only then may the plan swap eyepieces on one target.
func (mo *model) scarce(wanted map[gear]int, tr optics.Train) bool {
	for _, p := range piecesOf(tr) {
		if wanted[p.gear] > p.units {
			return true
		}
	}
	return false
}
