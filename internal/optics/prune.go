package optics

import (
	"cmp"
	"slices"
)

// Bounds of what can serve any target, mm of exit pupil. Above 10 mm six
// tenths of the light miss a dark-adapted adult eye; below 0.4 mm the
// magnification is 2.5 D, a quarter beyond the ceiling of common practice.
const (
	widestPupil    = 10.0
	narrowestPupil = 0.4
)

// refusedAnyNight is the magnification that the seeing limit refuses however
// calm the air.
const refusedAnyNight = 1.5 * Ceiling

// spares is how many better trains with other eyepieces make one superfluous:
// eyepieces are shared between instruments, so a second and third choice must
// survive for the line-up. One that needs an extra lens is a poorer reserve and goes a little sooner.
const (
	spares          = 3
	sparesAmplified = 2
)

// What counts as no difference to a guest: 7 per cent of power, 3 of field,
// of light and of edge quality.
const (
	samePower = 1.07
	sameView  = 0.97
)

// Prune returns the trains, in their order, without those of no use to any
// target and those that others beat for every target: about the same power,
// no narrower field, no softer edge, no shorter eye relief, no less light, no
// more pieces. One better train with the same eyepiece is enough to drop a
// train, or three with other eyepieces (two if it needs an amplifier). What
// remains of an instrument is never empty while it has a train at all.
func Prune(all []Train) []Train {
	views := make([]Optics, len(all))
	var order []int
	for n := range all {
		views[n] = all[n].numbers()
		if o := &views[n]; o.ExitPupil <= widestPupil && o.ExitPupil >= narrowestPupil && o.Magnification <= refusedAnyNight {
			order = append(order, n)
		}
	}
	if len(order) == 0 {
		return all // something must be left to give a reason about
	}
	// The best first, each judged against those kept so far: two trains that
	// beat each other within the tolerances cannot both go.
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(
			cmp.Compare(parts(&all[a]), parts(&all[b])),
			cmp.Compare(views[b].ApparentField, views[a].ApparentField),
			cmp.Compare(views[b].EdgeQuality, views[a].EdgeQuality),
			cmp.Compare(a, b))
	})
	var kept []int
	for _, n := range order {
		if !superfluous(n, kept, all, views) {
			kept = append(kept, n)
		}
	}
	slices.Sort(kept)
	out := make([]Train, len(kept))
	for i, n := range kept {
		out[i] = all[n]
	}
	return out
}

func superfluous(n int, kept []int, all []Train, views []Optics) bool {
	others := 0
	for _, m := range kept {
		if !beats(&views[m], &views[n]) || parts(&all[m]) > parts(&all[n]) {
			continue
		}
		if all[m].Eyepiece == all[n].Eyepiece {
			return true
		}
		others += max(1, all[m].Eyepiece.Count)
	}
	if all[n].Amplifier != nil {
		return others >= sparesAmplified
	}
	return others >= spares
}

// beats reports whether view a serves every target at least as well as b.
func beats(a, b *Optics) bool {
	ratio := a.Magnification / b.Magnification
	return ratio < samePower && ratio > 1/samePower &&
		a.TrueField >= sameView*b.TrueField && a.LitField >= sameView*b.LitField &&
		a.EdgeQuality >= sameView*b.EdgeQuality && a.Transmission >= sameView*b.Transmission &&
		min(a.EyeRelief, GlassesRelief) >= sameView*min(b.EyeRelief, GlassesRelief)
}

// parts counts the pieces that an operator must find in the dark.
func parts(t *Train) int {
	count := 0
	for _, there := range []bool{t.Amplifier != nil, t.Eyepiece != nil, t.Filter != nil} {
		if there {
			count++
		}
	}
	return count
}

func assumes(assumed []string, field string) bool { return slices.Contains(assumed, field) }
