package night_test

import (
	"math"
	"testing"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/sky"
)

// dusk is 21:00 on 19 September 2026 in Berlin.
var dusk = time.Date(2026, 9, 19, 19, 0, 0, 0, time.UTC)

const (
	bucket, tower, lens, driven = 1, 2, 3, 4
)

// meadowNight is a night with four instruments of measured heights: a small and
// a tall Newtonian on rocker boxes, a refractor pushed by hand whose eyepiece
// stays low, and a driven one that draws power. All show Polaris, which hardly
// moves.
func meadowNight() night.Plan {
	show := func(inst int64, target string, from, minutes int) lineup.Showing {
		return lineup.Showing{ID: inst*100 + int64(from), InstrumentID: inst, TargetID: target, EyepieceID: 1, From: dusk.Add(time.Duration(from) * time.Minute), Length: time.Duration(minutes) * time.Minute}
	}
	base := func(id int64, name string) kit.Base { return kit.Base{ID: id, Name: name, Count: 1} }
	return night.Plan{
		Club:  night.Club{Ladders: true, MinAltitude: 15},
		Night: night.Night{ID: 1, Name: "x", Date: sky.Date{Year: 2026, Month: 9, Day: 19}, PublicFrom: dusk, Public: 2 * time.Hour, Block: 15 * time.Minute, Guests: 50, Audience: night.Adults},
		Site:  night.Site{Name: "Heron Meadow", Place: sky.Place{Lat: 52.5, Lon: 13.4}, Zone: "Europe/Berlin", Brightness: 20, Ladders: true},
		Kit: kit.Kit{
			Instruments: []kit.Instrument{
				{Base: base(bucket, "Bucket"), Design: kit.Newtonian, Aperture: 254, FocalLength: 1500, Mount: kit.RockerBox, PivotHeight: 0.5, PivotToEye: 1.5, Focuser: kit.Barrel125},
				{Base: base(tower, "Tower"), Design: kit.Newtonian, Aperture: 400, FocalLength: 2600, Mount: kit.RockerBox, PivotHeight: 0.6, PivotToEye: 2.4, Focuser: kit.Barrel125},
				{Base: base(lens, "Lens"), Design: kit.Achromat, Aperture: 100, FocalLength: 800, Mount: kit.AltAzHand, PivotHeight: 1.5, PivotToEye: 0.4, EyeOffset: 0.08, Focuser: kit.Barrel125},
				{Base: base(driven, "Driven"), Design: kit.SchmidtCassegrain, Aperture: 203, FocalLength: 2032, Mount: kit.AltAzGoTo, GoTo: true, Tracking: true, MountPower: 30, PivotHeight: 1.3, PivotToEye: 0.25, Focuser: kit.Barrel125},
			},
			Eyepieces: []kit.Eyepiece{{Base: base(1, "25 mm"), FocalLength: 25, ApparentField: 50, Barrel: kit.Barrel125}},
		},
		Targets:  []string{"polaris", "m13"},
		Showings: []lineup.Showing{show(bucket, "polaris", 0, 60), show(tower, "polaris", 0, 60), show(lens, "polaris", 0, 60), show(driven, "polaris", 0, 60)},
	}
}

// standsOf are the instruments as the ground sees them, by number.
func standsOf(t *testing.T, p night.Plan) map[int64]ground.Stand {
	t.Helper()
	sh, err := night.Build(p, catalog.Default())
	if err != nil {
		t.Fatal(err)
	}
	out := map[int64]ground.Stand{}
	for _, s := range sh.Field().Stands {
		out[s.ID] = s
	}
	if len(out) != len(p.Kit.Instruments) {
		t.Fatalf("%d stands for %d instruments", len(out), len(p.Kit.Instruments))
	}
	return out
}

// TestSightsOfAShowing: the ground is told where a target stands from the first
// minute of its showing to the last, every ten minutes. Polaris stands within
// 0.65 degrees of the pole (its declination is 89.37 degrees in 2026, by
// precession of the catalogue's 89.264), so its altitude is the latitude to
// that, and its azimuth is north to 0.65/cos 52.5 = 1.07 degrees.
func TestSightsOfAShowing(t *testing.T) {
	s := standsOf(t, meadowNight())[bucket]
	if len(s.Sights) != 1 || s.Sights[0].Target != "Polaris" {
		t.Fatalf("sights %+v", s.Sights)
	}
	looks := s.Sights[0].Looks
	if len(looks) != 7 || !looks[0].At.Equal(dusk) || !looks[6].At.Equal(dusk.Add(time.Hour)) {
		t.Fatalf("%d looks from %v", len(looks), looks[0].At)
	}
	for i, k := range looks {
		if math.Abs(k.Alt-52.5) > 0.7 || math.Abs(math.Remainder(k.Az, 360)) > 1.1 {
			t.Errorf("Polaris at %v stands at %.2f degrees, azimuth %.2f", k.At, k.Alt, k.Az)
		}
		if i > 0 && k.At.Sub(looks[i-1].At) != 10*time.Minute {
			t.Errorf("look %d comes %v after the one before", i, k.At.Sub(looks[i-1].At))
		}
	}

	// A short showing is seen at both ends; a target that nobody knows keeps its
	// name and has no direction.
	p := meadowNight()
	p.Showings[0].Length = 4 * time.Minute
	p.Showings[1].TargetID = "nowhere"
	all := standsOf(t, p)
	if got := all[bucket].Sights[0].Looks; len(got) != 2 || got[1].At.Sub(got[0].At) != 4*time.Minute {
		t.Errorf("a showing of four minutes: %+v", got)
	}
	if got := all[tower].Sights; len(got) != 1 || got[0].Target != "nowhere" || len(got[0].Looks) != 0 {
		t.Errorf("an unknown target: %+v", got)
	}
}

// TestStepsOnTheField: heights by hand for Polaris at 52.5 degrees (sine 0.793).
// The small Newtonian's eyepiece is 0.5 + 1.5 x 0.793 = 1.69 m up, 14 cm over
// an adult's eyes at 1.55 m: one step. The tall one's is 0.6 + 2.4 x 0.793 =
// 2.50 m up, 95 cm over them: a ladder, and none where ladders are forbidden.
// The refractor's eyepiece, 8 cm up its diagonal, hangs at 1.5 - 0.4 x 0.793 +
// 0.08 x 0.609 = 1.23 m: no step, and within the 1.05 to 1.30 m that suit a
// wheelchair.
func TestStepsOnTheField(t *testing.T) {
	all := standsOf(t, meadowNight())
	for id, want := range map[int64]ground.Step{bucket: ground.Stool, tower: ground.Ladder, lens: ground.NoStep, driven: ground.NoStep} {
		if got := all[id].Step; got != want {
			t.Errorf("%s: step %v, want %v", all[id].Name, got, want)
		}
	}
	for _, forbid := range []func(*night.Plan){func(p *night.Plan) { p.Club.Ladders = false }, func(p *night.Plan) { p.Site.Ladders = false }} {
		p := meadowNight()
		forbid(&p)
		if got := standsOf(t, p)[tower].Step; got == ground.Ladder {
			t.Error("a ladder where none is allowed")
		}
	}
	if a := all[lens].Access; a != 1 {
		t.Errorf("the refractor serves seated guests %.2f of its time, want all of it", a)
	}
	if a := all[tower].Access; a != 0 {
		t.Errorf("the tall Newtonian serves seated guests %.2f of its time, want none", a)
	}
	// Pushed on between two looks, or a box in the way of knees: awkward.
	for id, want := range map[int64]bool{bucket: true, lens: true, driven: false} {
		if all[id].Awkward != want {
			t.Errorf("%s: awkward %v", all[id].Name, all[id].Awkward)
		}
	}

	// Before anything is planned a target half-way up stands for all: the small
	// Newtonian's eyepiece is 0.5 + 1.5 sin 50 = 1.65 m up then.
	p := meadowNight()
	p.Showings = nil
	all = standsOf(t, p)
	if all[bucket].Step != ground.Stool || all[tower].Step != ground.Ladder || len(all[bucket].Sights) != 0 || all[lens].Access != 1 {
		t.Errorf("nothing planned: %+v", all)
	}
}

// TestAccessIsAShareOfTheTime: an instrument that suits a seated guest for one
// of two showings of the same length serves half of the time. With 0.62 m from
// axis to eyepiece Polaris puts it at 1.5 - 0.62 x 0.793 + 0.08 x 0.609 = 1.06 m;
// M13, over 53.5 degrees all that time, never over 1.5 - 0.62 x 0.804 + 0.08 x
// 0.595 = 1.049 m, just too low.
func TestAccessIsAShareOfTheTime(t *testing.T) {
	p := meadowNight()
	p.Kit.Instruments[2].PivotToEye = 0.62
	second := p.Showings[2]
	second.ID, second.TargetID, second.From = 999, "m13", dusk.Add(-time.Hour)
	p.Showings = append(p.Showings, second)
	s := standsOf(t, p)[lens]
	if len(s.Sights) != 2 || s.Access != 0.5 {
		t.Errorf("%d sights, seated guests are served %.2f of the time", len(s.Sights), s.Access)
	}
}

// TestWaitingGuests: of 50 guests six in ten are on the field (common practice),
// 30 at four instruments are 7.5 each, one of them at the eyepiece: 7 wait. A
// few guests make no line, and no negative one.
func TestWaitingGuests(t *testing.T) {
	for guests, want := range map[int]int{50: 7, 200: 29, 6: 0, 1: 0, 0: 0} {
		p := meadowNight()
		p.Night.Guests = guests
		if got := standsOf(t, p)[bucket].People; got != want {
			t.Errorf("%d guests: %d wait at each instrument, want %d", guests, got, want)
		}
	}
	p := meadowNight()
	p.Kit.Instruments, p.Showings = nil, nil
	if all := standsOf(t, p); len(all) != 0 {
		t.Errorf("stands without instruments: %v", all)
	}
}

// TestWhoWantsACable: only what draws more than its batteries are sure to give,
// and only where the site has a socket.
func TestWhoWantsACable(t *testing.T) {
	cables := func(p night.Plan) (names []string) {
		for _, i := range p.Kit.Instruments {
			if standsOf(t, p)[i.ID].Mains {
				names = append(names, i.Name)
			}
		}
		return names
	}
	p := meadowNight()
	if got := cables(p); len(got) != 0 {
		t.Errorf("a cable where there is no socket: %v", got)
	}
	p.Site.Power = true
	if got := cables(p); len(got) != 1 || got[0] != "Driven" {
		t.Errorf("cables to %v, want one to the driven instrument, which has no battery", got)
	}
	// 100 Ah at 12 V hold 1200 Wh; 30 W for some hours are a fraction of it.
	p.Kit.Batteries = []kit.Battery{{Base: kit.Base{ID: 1, Name: "Large", Count: 1}, Kind: kit.LiFePO4, Capacity: 100, Voltage: 12.8}}
	if got := cables(p); len(got) != 0 {
		t.Errorf("a cable beside a battery that lasts: %v", got)
	}
}

// TestPlaceOf finds an instrument's place by its number.
func TestPlaceOf(t *testing.T) {
	p := meadowNight()
	want := ground.Place{InstrumentID: lens, Number: 2, At: ground.Point{X: 3, Y: 4}, Queue: 90}
	p.Places = []ground.Place{{InstrumentID: bucket, Number: 1}, want}
	if got, ok := p.PlaceOf(lens); !ok || got != want {
		t.Errorf("%+v, %v", got, ok)
	}
	if got, ok := p.PlaceOf(driven); ok || got != (ground.Place{}) {
		t.Errorf("an instrument without a place has %+v", got)
	}
}
