package field

import (
	"math"
	"slices"
	"strings"

	"duskboard/internal/kit"
)

// Kind names an optical surface of an instrument.
type Kind string

// The surfaces on which dew is forecast.
const (
	CorrectorPlate  Kind = "corrector plate" // thin plate or meniscus at the front of a closed Cassegrain
	Objective       Kind = "objective"       // front lens of a refractor or binoculars
	Secondary       Kind = "secondary mirror"
	Primary         Kind = "primary mirror"
	FinderObjective Kind = "finder objective"
	EyepieceLens    Kind = "eyepiece"
	SightWindow     Kind = "finder window" // of a unit-power sight
)

// Surface is one optical surface as it stands in the night.
type Surface struct {
	Kind     Kind
	Name     string  // for a sentence: "corrector plate", or with the finder's own name
	Diameter float64 // m
	Plate    Plate   // with its shield and without heat
	Wind     float64 // share of the wind at the instrument that reaches it
	Heater   float64 // W of the strip on it; 0 for none
	// Shieldable is whether a shield can be put in front of it.
	Shieldable bool
}

// Heat per volume of glass, J m^-3 K^-1, and typical shares; the values of
// the reference sheet, 5 per cent apart between kinds of glass.
var volumeHeat = map[kit.Glass]float64{
	kit.Borosilicate: 1.85e6,
	kit.PlateGlass:   2.00e6,
	kit.Crown:        2.15e6,
	kit.FusedSilica:  1.60e6,
	kit.GlassCeramic: 2.00e6,
}

// conductivity of glass, W m^-1 K^-1.
var conductivity = map[kit.Glass]float64{
	kit.Borosilicate: 1.14,
	kit.PlateGlass:   0.97,
	kit.Crown:        1.11,
	kit.FusedSilica:  1.38,
	kit.GlassCeramic: 1.46,
}

func heatOf(g kit.Glass, fallback kit.Glass) float64 {
	if v, ok := volumeHeat[g]; ok {
		return v
	}
	return volumeHeat[fallback]
}

const (
	plateHeat = 2.10e6 // of a thin corrector plate, J m^-3 K^-1
	tubeLink  = 4.0    // of an inner face to the air in a closed tube, W m^-2 K^-1; 2 to 8 are met

	// Reach of the wind; engineering choices. A secondary sits inside the tube
	// mouth, an eyepiece in the lee of tube and people.
	windInTube     = 0.0
	windAtEyepiece = 0.5

	// secondaryView is how much sky the back of a Newtonian's secondary sees
	// through the open end of the tube; 0.2 to 0.5 by how far inside it sits.
	secondaryView = 0.35
	trussView     = 0.5
	mirrorCoat    = 0.1  // emissivity of a coated mirror that has seen some years
	windowView    = 0.9  // a tilted window
	eyepieceView  = 0.5  // half covered by the observer
	defaultShield = 1.5  // length over width of the shield that we advise
	binocularView = 0.75 // the rims of the cells hide a little of the sky
)

// surfaces lists the surfaces of an instrument with the gear that goes with
// it, front element first.
func surfaces(inst kit.Instrument, gear Gear) []Surface {
	d := inst.Aperture / 1000
	shield := frontShield(inst, gear)
	var out []Surface
	switch {
	case hasCorrector(inst):
		out = append(out, Surface{
			Kind: CorrectorPlate, Name: string(CorrectorPlate), Diameter: d, Wind: 1, Shieldable: true,
			Plate: Plate{Emissivity: glassEmissivity, View: 1, Faces: 1, Coupling: tubeLink, HeatCapacity: plateHeat * correctorThickness(inst), Shield: shield},
		})
	case hasLens(inst):
		view := 1.0
		if inst.Design == kit.Binoculars {
			view = binocularView
		}
		out = append(out, Surface{
			Kind: Objective, Name: string(Objective), Diameter: d, Wind: 1, Shieldable: true,
			Plate: Plate{Emissivity: glassEmissivity, View: view, Faces: 1, Coupling: tubeLink, HeatCapacity: heatOf(inst.Glass, kit.Crown) * glassThickness(inst), Shield: shield},
		})
	default:
		view := secondaryView
		if !inst.ClosedTube && inst.Aperture >= 300 {
			view = trussView // large ones are truss tubes with an open cage
		}
		// A shroud on the tube mouth takes the sky from the secondary; it does
		// not warm it, so at most 60 per cent are granted.
		view *= 1 - 0.6*math.Min(1, shield)
		out = append(out, Surface{
			Kind: Secondary, Name: string(Secondary), Diameter: d * math.Max(inst.Obstruction, 0.2), Wind: windInTube,
			Plate: Plate{Emissivity: wallEmissivity, Back: mirrorCoat, View: view, Faces: 2, HeatCapacity: secondaryHeat(d, inst.Obstruction)},
		})
		out = append(out, primarySurface(inst))
	}
	for _, f := range gear.Finders {
		out = append(out, finderSurface(f))
	}
	out = append(out, Surface{
		Kind: EyepieceLens, Name: string(EyepieceLens), Diameter: 0.025, Wind: windAtEyepiece,
		// Eye lens and the barrel it sits in, about 15 mm of glass.
		Plate: Plate{Emissivity: glassEmissivity, View: eyepieceView, Faces: 1, Coupling: 2, HeatCapacity: 32400},
	})
	placeHeaters(out, inst, gear)
	return out
}

// primarySurface is the mirror at the bottom of the tube. Its temperature
// comes from the cool-down; the plate here only adds what the small opening
// above it takes.
func primarySurface(inst kit.Instrument) Surface {
	d := inst.Aperture / 1000
	length := inst.TubeLength
	if length <= 0 {
		length = inst.FocalLength / 1000
	}
	view := 1.0
	if d > 0 {
		view = ShieldView(length / d)
	}
	return Surface{
		Kind: Primary, Name: string(Primary), Diameter: d, Wind: windInTube,
		Plate: Plate{Emissivity: mirrorCoat, Back: wallEmissivity, View: view, Faces: 2, HeatCapacity: heatOf(inst.Glass, kit.Borosilicate) * glassThickness(inst)},
	}
}

// finderName is a finder's own name within a sentence: one that begins with a
// common word ("Dot finder") loses its capital, a proper name keeps it.
func finderName(name string) string {
	switch word, _, more := strings.Cut(name, " "); {
	case !more:
		return name
	case slices.Contains([]string{"Dot", "Ring", "Red", "Green", "Reflex", "Optical", "Straight", "Right-angle", "Right", "Small", "Large", "Big", "Old", "New", "Spare"}, word):
		return strings.ToLower(name[:1]) + name[1:]
	}
	return name
}

func finderSurface(f kit.Finder) Surface {
	name := finderName(f.Name)
	if f.Kind == kit.UnitPower {
		if name == "" {
			name = string(SightWindow)
		}
		return Surface{Kind: SightWindow, Name: name, Diameter: 0.03, Wind: 1,
			// Both faces of 2.5 mm glass are in the open.
			Plate: Plate{Emissivity: glassEmissivity, Back: glassEmissivity, View: windowView, Faces: 2, HeatCapacity: 5250}}
	}
	if name == "" {
		name = string(FinderObjective)
	}
	d := f.Aperture / 1000
	if d <= 0 {
		d = 0.05
	}
	return Surface{Kind: FinderObjective, Name: name, Diameter: d, Wind: 1, Shieldable: true,
		Plate: Plate{Emissivity: glassEmissivity, View: 1, Faces: 1, Coupling: tubeLink, HeatCapacity: volumeHeat[kit.Crown] * 0.2 * d}}
}

// hasCorrector reports a closed front of thin glass.
func hasCorrector(inst kit.Instrument) bool {
	return inst.Design == kit.SchmidtCassegrain || inst.Design == kit.MaksutovCassegrain
}

// hasLens reports a front lens; an instrument of the club's own design counts
// as one when its tube is closed.
func hasLens(inst kit.Instrument) bool {
	switch inst.Design {
	case kit.Achromat, kit.Apochromat, kit.Binoculars:
		return true
	case kit.Custom:
		return inst.ClosedTube
	}
	return false
}

// correctorThickness is typical, m: 5 mm at 203 mm to 6.4 mm at 356 mm for a
// plate, a tenth of the aperture for a meniscus.
func correctorThickness(inst kit.Instrument) float64 {
	if inst.Design == kit.MaksutovCassegrain {
		return 0.1 * inst.Aperture / 1000
	}
	mm := 5 + 1.4*(inst.Aperture-203)/(356-203)
	return math.Max(4, math.Min(7, mm)) / 1000
}

// secondaryHeat is that of a flat a fifth as thick as wide, J m^-2 K^-1; at
// least the 12 mm of a common one.
func secondaryHeat(d, obstruction float64) float64 {
	return volumeHeat[kit.Borosilicate] * math.Max(0.012, 0.2*d*math.Max(obstruction, 0.2))
}

// frontShield is the longest shield that goes with the instrument, as length
// over width.
func frontShield(inst kit.Instrument, gear Gear) float64 {
	ratio := inst.DewShield
	for _, g := range gear.DewGear {
		if g.Kind == kit.Shield && fitsFront(g, inst) {
			ratio = math.Max(ratio, g.Length/inst.Aperture)
		}
	}
	return ratio
}

// fitsFront reports whether dew gear goes round the front of the tube. The
// tube is wider than the aperture by what a cell takes, up to a fifth; gear
// without sizes is taken at its word.
func fitsFront(g kit.DewGear, inst kit.Instrument) bool {
	if g.ForID != 0 && g.ForID == inst.ID || g.MaxDiameter == 0 {
		return true
	}
	return g.MaxDiameter >= inst.Aperture && g.MinDiameter <= 1.25*inst.Aperture
}

// placeHeaters puts the instrument's heater on the front element and every
// loose strip on the first surface without one that it fits.
func placeHeaters(ss []Surface, inst kit.Instrument, gear Gear) {
	if len(ss) == 0 {
		return
	}
	ss[0].Heater = inst.Heater
	for _, g := range gear.DewGear {
		if g.Kind != kit.HeaterStrip {
			continue
		}
		for i := range ss {
			d := ss[i].Diameter * 1000
			fits := g.MaxDiameter == 0 || g.MaxDiameter >= d && g.MinDiameter <= 1.25*d
			if ss[i].Heater == 0 && fits && ss[i].Kind != Primary {
				ss[i].Heater = g.Power
				break
			}
		}
	}
}
