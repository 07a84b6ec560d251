package departure

import (
	"fmt"
	"slices"
	"strings"

	"duskboard/internal/crew"
	"duskboard/internal/field"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/sky"
)

// partsOf names what belongs to an instrument, so that nobody arrives with a
// tube and no counterweight.
func partsOf(i kit.Instrument) string {
	parts := map[kit.Mount]string{
		kit.RockerBox:        "tube, base",
		kit.AltAzHand:        "tube, mount head, tripod, eyepiece tray",
		kit.AltAzGoTo:        "tube, mount, tripod, hand controller and its cable, power cable",
		kit.GermanEquatorial: "tube, mount head, tripod, counterweights and their bar, hand controller, power cable",
		kit.ForkWedge:        "tube with fork, wedge and its screws, tripod, hand controller, power cable",
		kit.Tripod:           "tripod and its plate",
		kit.Parallelogram:    "arm, tripod, counterweight",
	}[i.Mount]
	if i.Design == kit.Binoculars {
		parts = "binoculars, " + parts
	}
	return parts + ", caps for both ends"
}

// optics puts eyepieces, Barlow lenses, diagonals, filters and finders on the
// list: those that the line-up uses, as many copies as it uses at once.
func (b *builder) optics() {
	k := b.sh.Kit
	for _, e := range k.Eyepieces {
		b.shared(e.Base, barrelWords(e.Barrel)+" eyepiece", func(s lineup.Showing) bool { return s.EyepieceID == e.ID })
	}
	for _, a := range k.Amplifiers {
		b.shared(a.Base, string(a.Kind), func(s lineup.Showing) bool { return s.AmplifierID == a.ID })
	}
	for _, d := range k.Diagonals {
		b.shared(d.Base, "diagonal", func(s lineup.Showing) bool { return s.DiagonalID == d.ID })
	}
	for _, f := range k.Filters {
		b.shared(f.Base, "filter", func(s lineup.Showing) bool { return s.FilterID == f.ID })
	}
	for _, u := range b.uses {
		for _, f := range b.sh.GearOf(u.inst).Finders {
			b.owned(Item{Key: b.key(f.ID), Kind: Optics, Name: f.Name, Detail: "finder, with its shoe and screws, for " + u.inst.Name, Instrument: u.inst.ID}, f.Base, b.bringers(u.inst.ID)...)
		}
		if needsAdapter(b.sh.Kit, u) {
			b.add(Item{Key: fmt.Sprintf("adapter-%d", u.inst.ID), Kind: Optics, Name: "Adapter from 2 to 1¼ inch", Detail: "for " + u.inst.Name, Instrument: u.inst.ID}, b.bringers(u.inst.ID)...)
		}
	}
}

// shared puts the copies of a piece on the list that showings use.
func (b *builder) shared(base kit.Base, what string, uses func(lineup.Showing) bool) {
	if b.check.NoLineUp {
		b.owned(Item{Key: b.key(base.ID), Kind: Optics, Name: base.Name, Detail: what}, base, b.allBringers()...)
		return
	}
	for _, h := range copiesOf(b.sh.Showings, base.Count, uses) {
		words := what + " for " + b.name(h.at[0])
		for n := 1; n < len(h.at); n++ {
			words += fmt.Sprintf("; goes to %s at %s", b.name(h.at[n]), b.clock(h.since[n]))
		}
		b.owned(Item{Key: b.key(base.ID), Kind: Optics, Name: base.Name, Detail: words, Instrument: h.at[0]}, base, b.bringers(h.at...)...)
	}
}

func (b *builder) name(inst int64) string {
	for _, i := range b.sh.Kit.Instruments {
		if i.ID == inst {
			return i.Name
		}
	}
	return "an instrument that is gone"
}

// needsAdapter reports whether 1.25-inch eyepieces go into a 2-inch focuser.
func needsAdapter(k kit.Kit, u use) bool {
	if u.inst.Focuser != kit.Barrel2 {
		return false
	}
	for _, s := range u.shows {
		small := slices.ContainsFunc(k.Eyepieces, func(e kit.Eyepiece) bool { return e.ID == s.EyepieceID && e.Barrel == kit.Barrel125 })
		narrow := slices.ContainsFunc(k.Diagonals, func(d kit.Diagonal) bool { return d.ID == s.DiagonalID && d.Barrel == kit.Barrel125 })
		if small && !narrow {
			return true
		}
	}
	return false
}

func barrelWords(x kit.Barrel) string {
	switch x {
	case kit.Barrel2:
		return "2 inch"
	case kit.Barrel125:
		return "1¼ inch"
	}
	return "fixed"
}

// dew puts shields and heaters on the list: those that stay with an instrument
// and those handed to it.
func (b *builder) dew() {
	for _, u := range b.uses {
		i := u.inst
		if i.DewShield > 0 {
			b.add(Item{Key: fmt.Sprintf("shield-%d", i.ID), Kind: Dew, Name: "Dew shield of " + i.Name, Instrument: i.ID}, b.bringers(i.ID)...)
		}
		if i.Heater > 0 {
			b.add(Item{Key: fmt.Sprintf("heater-%d", i.ID), Kind: Dew, Name: "Heater of " + i.Name, Detail: "strip, controller, cable", Instrument: i.ID}, b.bringers(i.ID)...)
		}
		for _, d := range b.sh.GearOf(i).DewGear {
			what := "shield for "
			if d.Kind == kit.HeaterStrip {
				what = "strip, controller and cable, for "
			}
			b.owned(Item{Key: b.key(d.ID), Kind: Dew, Name: d.Name, Detail: what + i.Name, Instrument: i.ID}, d.Base, b.bringers(i.ID)...)
		}
	}
}

// power puts the charged batteries on the list.
func (b *builder) power() {
	for _, u := range b.uses {
		for _, x := range b.sh.GearOf(u.inst).Batteries {
			words := "charged, with its cable, for " + u.inst.Name
			b.owned(Item{Key: b.key(x.ID), Kind: Power, Name: x.Name, Detail: words, Instrument: u.inst.ID}, x.Base, b.bringers(u.inst.ID)...)
		}
	}
}

// tools puts on the list what aligns optics (one for each person who brings
// such an instrument), spare cells and covers.
func (b *builder) tools() {
	has := map[int64]int{} // index of somebody's alignment tool
	dots := map[int64]bool{}
	for _, u := range b.uses {
		i := u.inst
		by := b.bringer[i.ID]
		if i.NeedsCollimation {
			if n, ok := has[by]; ok && by != 0 {
				b.check.Items[n].Detail += ", " + i.Name
			} else {
				b.add(Item{Key: fmt.Sprintf("align-%d", i.ID), Kind: Tool, Name: "Tool to align the optics", Detail: "with its cell and the key for the screws, for " + i.Name, Instrument: i.ID}, b.bringers(i.ID)...)
				has[by] = len(b.check.Items) - 1
			}
		}
		dot := slices.ContainsFunc(b.sh.GearOf(i).Finders, func(f kit.Finder) bool { return f.Kind == kit.UnitPower })
		if dot && !dots[by] {
			b.add(Item{Key: fmt.Sprintf("cell-%d", i.ID), Kind: Tool, Name: "Spare cell for the dot finder", Detail: "a flat one is the most frequent fault", Instrument: i.ID}, b.bringers(i.ID)...)
			dots[by] = true
		}
		if b.showsSun(u) {
			b.add(Item{Key: fmt.Sprintf("solar-%d", i.ID), Kind: Tool, Name: "Solar filter of " + i.Name, Detail: "over the whole front, certified, inspected for holes before it is fitted", Instrument: i.ID}, b.bringers(i.ID)...)
		}
		if b.wet() {
			b.add(Item{Key: fmt.Sprintf("cover-%d", i.ID), Kind: Tool, Name: "Cover against rain and dew for " + i.Name, Instrument: i.ID}, b.bringers(i.ID)...)
		}
	}
}

func (b *builder) showsSun(u use) bool {
	for _, s := range u.shows {
		if t, ok := b.sh.Target(s.TargetID); ok && t.Moves && t.Body == sky.Sun {
			return true
		}
	}
	return false
}

// wet reports whether rain is possible or any front is expected to dew.
func (b *builder) wet() bool {
	for _, w := range field.PeopleWarnings(b.sh.Weather, b.sh.Night.PublicFrom, b.sh.Night.PublicTo(), field.DefaultPeopleLimits()) {
		if strings.HasPrefix(w.Sentence, "Rain") {
			return true
		}
	}
	for _, r := range b.sh.Forecasts {
		for _, w := range r.Warnings {
			if w.Subject == "dew" && w.Importance <= field.Caution {
				return true
			}
		}
	}
	return false
}

// common puts on the list what the club needs once.
func (b *builder) common() {
	for _, c := range []struct {
		key, name, detail string
		roles             []crew.Role
	}{
		{"first-aid", "First-aid kit", "and a phone that works there, with the address of the site", []crew.Role{crew.Safety, crew.Greeter}},
		{"signs", "Signs", "way in, parking, this way, no white light", []crew.Role{crew.Parking, crew.SetUp, crew.Greeter}},
		{"tape", "Tape and pegs", "white or glowing, for legs of tripods, edges of steps and the way in", []crew.Role{crew.SetUp, crew.Parking}},
		{"path-lamps", "Red lamps for the path", "with fresh cells, pointing down", []crew.Role{crew.SetUp, crew.Parking, crew.Safety}},
		{"white-lamp", "One white lamp", "for emergencies and for packing down", []crew.Role{crew.Safety}},
		{"wipes", "Wipes for eyecups", "and a spare eyepiece for an infected eye", []crew.Role{crew.QueueHost, crew.Greeter}},
		{"cards", "Printed cards and the roster", "one card for each instrument, pens", []crew.Role{crew.Greeter, crew.QueueHost, crew.Safety}},
	} {
		b.add(Item{Key: c.key, Kind: Common, Name: c.name, Detail: c.detail}, b.helpers(c.roles...)...)
	}
}
