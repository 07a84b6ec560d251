package optics

// Bounds of what can serve any target, mm of exit pupil. Above 10 mm six
// tenths of the light miss a dark-adapted adult eye; below 0.4 mm the
// magnification is 2.5 D, a quarter beyond the ceiling of common practice.
const (
	widestPupil    = 10.0
	narrowestPupil = 0.4
)

// spares is how many better trains with other eyepieces make one superfluous:
// eyepieces are shared between instruments, so a second and third choice must
// survive for the line-up.
const spares = 3

// Prune returns the trains, in their order, without those of no use to any
// target and those that others beat for every target: about the same power
// (3 per cent), no narrower field, no softer edge, no shorter eye relief, no
// less light. One better train with the same eyepiece is enough to drop a
// train, or three with other eyepieces. What remains of an instrument is
// never empty while it has a train at all.
func Prune(all []Train) []Train {
	views := make([]Optics, len(all))
	var useful []int
	for n, t := range all {
		views[n] = t.Static()
		if e := views[n].ExitPupil; e <= widestPupil && e >= narrowestPupil {
			useful = append(useful, n)
		}
	}
	if len(useful) == 0 {
		return all // something must be left to give a reason about
	}
	var kept []Train
	for _, n := range useful {
		if !superfluous(n, useful, all, views) {
			kept = append(kept, all[n])
		}
	}
	return kept
}

func superfluous(n int, among []int, all []Train, views []Optics) bool {
	others := 0
	for _, m := range among {
		if m == n || !beats(m, n, all, views) {
			continue
		}
		if all[m].Eyepiece == all[n].Eyepiece {
			return true
		}
		others += max(1, all[m].Eyepiece.Count)
	}
	return others >= spares
}

// beats reports whether train m serves every target at least as well as n.
// Equal trains are ordered by their place, so that they do not drop each other.
func beats(m, n int, all []Train, views []Optics) bool {
	a, b := &views[m], &views[n]
	if ratio := a.Magnification / b.Magnification; ratio < 0.97 || ratio > 1.03 {
		return false
	}
	reliefA, reliefB := min(a.EyeRelief, GlassesRelief), min(b.EyeRelief, GlassesRelief)
	noWorse := a.TrueField >= b.TrueField && a.LitField >= b.LitField && a.EdgeQuality >= b.EdgeQuality &&
		reliefA >= reliefB && a.Transmission >= b.Transmission && parts(all[m]) <= parts(all[n])
	if !noWorse {
		return false
	}
	noBetter := a.TrueField == b.TrueField && a.LitField == b.LitField && a.EdgeQuality == b.EdgeQuality &&
		reliefA == reliefB && a.Transmission == b.Transmission && parts(all[m]) == parts(all[n])
	return !noBetter || m < n
}

// parts counts the pieces that an operator must find in the dark.
func parts(t Train) int {
	count := 0
	for _, there := range []bool{t.Amplifier != nil, t.Eyepiece != nil, t.Filter != nil} {
		if there {
			count++
		}
	}
	return count
}

func assumes(assumed []string, field string) bool {
	for _, a := range assumed {
		if a == field {
			return true
		}
	}
	return false
}
