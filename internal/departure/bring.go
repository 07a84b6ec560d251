package departure

import (
	"cmp"
	"slices"

	"duskboard/internal/crew"
	"duskboard/internal/kit"
	"duskboard/internal/night"
)

// heavy is from which weight in kg nobody who cannot lift is asked to bring an
// instrument (common practice).
const heavy = 8.0

// instruments decides who brings each instrument; those that few could bring
// come first, so that nobody is left with two while another has none.
func (b *builder) instruments() {
	order := slices.Clone(b.uses)
	slices.SortStableFunc(order, func(x, y use) int { return cmp.Compare(len(b.able(x.inst)), len(b.able(y.inst))) })
	for _, u := range order {
		it := Item{Key: b.key(u.inst.ID), Kind: Instrument, Name: u.inst.Name, Detail: partsOf(u.inst), Instrument: u.inst.ID}
		it = *b.owned(it, u.inst.Base, b.candidates(u.inst)...)
		if len(it.By) > 0 {
			b.bringer[u.inst.ID] = it.By[0]
			b.load[it.By[0]]++
		}
	}
	// As in the kit, not as they were decided.
	slices.SortStableFunc(b.check.Items, func(x, y Item) int { return cmp.Compare(b.place(x.Instrument), b.place(y.Instrument)) })
}

func (b *builder) place(inst int64) int {
	return slices.IndexFunc(b.uses, func(u use) bool { return u.inst.ID == inst })
}

// candidates are those who could bring an instrument, the most fitting first:
// who runs it first by the roster, then who can run it.
func (b *builder) candidates(i kit.Instrument) []int64 {
	var out []int64
	duties := slices.Clone(b.sh.Duties)
	slices.SortStableFunc(duties, func(x, y crew.Duty) int { return x.From.Compare(y.From) })
	for _, d := range duties {
		if d.Role == crew.Operator && d.InstrumentID == i.ID && !slices.Contains(out, d.VolunteerID) {
			out = append(out, d.VolunteerID)
		}
	}
	able := b.able(i)
	slices.SortStableFunc(able, func(x, y crew.Volunteer) int {
		return cmp.Or(
			cmp.Compare(b.hindrance(x, i), b.hindrance(y, i)),
			cmp.Compare(b.load[x.ID], b.load[y.ID]),
			cmp.Compare(special(y, i), special(x, i)),
		)
	})
	for _, v := range able {
		out = append(out, v.ID)
	}
	return out
}

// able are those who come and can run the instrument alone.
func (b *builder) able(i kit.Instrument) []crew.Volunteer {
	var out []crew.Volunteer
	for _, v := range b.coming {
		if night.CanOperate(v, i) {
			out = append(out, v)
		}
	}
	return out
}

// hindrance counts what speaks against somebody bringing an instrument.
func (b *builder) hindrance(v crew.Volunteer, i kit.Instrument) int {
	n := 0
	a := answer(b.sh, v.ID)
	if v.Minor {
		n += 4 // cannot drive it there
	}
	if v.Limits.NoLifting && i.Weight > heavy {
		n += 4
	}
	if !a.From.IsZero() && a.From.After(b.sh.PlannedPutOut(i)) {
		n += 3 // comes when it should stand outdoors already
	}
	if a.Answer != crew.Yes {
		n += 2
	}
	if v.Limits.NoNightDriving {
		n++
	}
	return n
}

// special is 1 when somebody has a skill for this very instrument.
func special(v crew.Volunteer, i kit.Instrument) int {
	for _, s := range v.Skills {
		if s.InstrumentID == i.ID {
			return 1
		}
	}
	return 0
}

// helpers are those who come in the order in which they are asked for things of
// the club: by role, then those who said yes, then who carries least.
func (b *builder) helpers(roles ...crew.Role) []int64 {
	who := slices.Clone(b.coming)
	rank := func(v crew.Volunteer) int {
		for n, r := range roles {
			onDuty := slices.ContainsFunc(b.sh.Duties, func(d crew.Duty) bool { return d.VolunteerID == v.ID && d.Role == r })
			if onDuty || len(b.sh.Duties) == 0 && slices.Contains(v.Roles, r) {
				return n
			}
		}
		return len(roles)
	}
	slices.SortStableFunc(who, func(x, y crew.Volunteer) int {
		return cmp.Or(
			cmp.Compare(minor(x), minor(y)),
			cmp.Compare(rank(x), rank(y)),
			cmp.Compare(unsure(answer(b.sh, x.ID)), unsure(answer(b.sh, y.ID))),
			cmp.Compare(b.load[x.ID], b.load[y.ID]),
		)
	})
	var out []int64
	for _, v := range who {
		out = append(out, v.ID)
	}
	return out
}

func minor(v crew.Volunteer) int {
	if v.Minor {
		return 1
	}
	return 0
}

func unsure(a crew.Availability) int {
	if a.Answer == crew.Yes {
		return 0
	}
	return 1
}

// bringers are those who bring the given instruments, in their order.
func (b *builder) bringers(insts ...int64) []int64 {
	var out []int64
	for _, i := range insts {
		if v := b.bringer[i]; v != 0 && !slices.Contains(out, v) {
			out = append(out, v)
		}
	}
	return out
}

// allBringers are those who bring any instrument.
func (b *builder) allBringers() []int64 {
	var ids []int64
	for _, u := range b.uses {
		ids = append(ids, u.inst.ID)
	}
	return b.bringers(ids...)
}
