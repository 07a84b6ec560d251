package lineup

import (
	"slices"

	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// spareDiagonals adds second choices where loose diagonals are scarce. A train
// is judged with the diagonal that passes the widest field; when more
// instruments want that one than the club owns, each of them also gets its
// trains with the other loose ones, so that the line-up can share them out.
func (m *Matrix) spareDiagonals() {
	users := m.diagonalUsers()
	for ii := range m.in.Kit.Instruments {
		made := map[[2]int64]int{} // train and diagonal: the train with it, -1 if it does not fit
		for ti := range m.in.Targets {
			cell := &m.cells[ii*len(m.in.Targets)+ti]
			if len(cell.Tracks) > 0 {
				m.spare(ii, ti, cell, users, made)
			}
		}
	}
}

// diagonalUsers counts, for every loose diagonal, the instruments that want it.
func (m *Matrix) diagonalUsers() map[int64]int {
	users := map[int64]int{}
	for ii := range m.in.Kit.Instruments {
		mine := map[int64]bool{}
		for ti := range m.in.Targets {
			for _, tr := range m.Cell(ii, ti).Tracks {
				if d := m.Trains[ii][tr.Train].Diagonal; d != nil && d.ForID == 0 {
					mine[d.ID] = true
				}
			}
		}
		for id := range mine {
			users[id]++
		}
	}
	return users
}

func (m *Matrix) spare(ii, ti int, cell *Cell, users map[int64]int, made map[[2]int64]int) {
	scarce := func(r int) bool {
		d := m.Trains[ii][r].Diagonal
		return d != nil && d.ForID == 0 && users[d.ID] > max(d.Count, 1)
	}
	var base []float64
	var more []Track
	for n := range m.in.Kit.Diagonals {
		d := &m.in.Kit.Diagonals[n]
		with := func(r int) int { return m.withDiagonal(ii, r, d, made) }
		var rs []int
		for _, tr := range cell.Tracks {
			if r := -1; scarce(tr.Train) {
				if r = with(tr.Train); r >= 0 {
					rs = append(rs, r)
				}
			}
		}
		if len(rs) == 0 && scarce(cell.Tracks[0].Train) {
			// All of the best are too wide for it: the best that is not.
			rs = m.bestThrough(ii, ti, with)
		}
		for _, r := range rs {
			if base == nil {
				base = m.bases(ii, ti)
			}
			if tr, any := m.follow(ii, ti, r, base); any {
				more = append(more, tr)
			}
		}
	}
	if len(more) > 0 {
		cell.Tracks = append(slices.Clip(cell.Tracks), more...)
		slices.SortStableFunc(cell.Tracks, func(a, b Track) int {
			switch x, y := total(a.Fit), total(b.Fit); {
			case x > y:
				return -1
			case x < y:
				return 1
			}
			return 0
		})
	}
}

// withDiagonal returns train r with diagonal d in the place of its own, made
// once; -1 when it does not go together or is its own.
func (m *Matrix) withDiagonal(ii, r int, d *kit.Diagonal, made map[[2]int64]int) int {
	key := [2]int64{int64(r), d.ID}
	if n, ok := made[key]; ok {
		return n
	}
	n := -1
	if tr, ok := m.Trains[ii][r].Through(d); ok {
		n = m.addTrain(ii, tr)
	}
	made[key] = n
	return n
}

// bestThrough is the train with the best field and magnification of those
// that can be had with another diagonal, in a list of one; none when there is
// none.
func (m *Matrix) bestThrough(ii, ti int, with func(r int) int) []int {
	best, at := 0.0, -1
	for r, tr := range slices.Clone(m.Trains[ii]) {
		if tr.Filter != nil || !loose(tr) {
			continue
		}
		if s := m.staticScore(ii, ti, r); s > best {
			if n := with(r); n >= 0 {
				best, at = s, n
			}
		}
	}
	if at < 0 {
		return nil
	}
	return []int{at}
}

func loose(tr optics.Train) bool { return tr.Diagonal != nil && tr.Diagonal.ForID == 0 }
