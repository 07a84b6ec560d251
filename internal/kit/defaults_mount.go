package kit

import "math"

func (i *Instrument) fillMount(a *assumptions) {
	word(a, "Mount", &i.Mount, usualMount(i.Design, i.Aperture))
	driven := i.Mount == AltAzGoTo || i.Mount == GermanEquatorial || i.Mount == ForkWedge
	a.yes("Tracking", &i.Tracking, driven)
	a.yes("GoTo", &i.GoTo, i.Mount == AltAzGoTo)
	a.orZero("MeridianOverrun", &i.MeridianOverrun, 0) // mounts differ from 0 to an hour
	a.orZero("MinAltitude", &i.MinAltitude, 0)
	a.number("MaxAltitude", &i.MaxAltitude, usualMaxAltitude(i.Mount, i.ratio(), i.Design))
}

func usualMount(d Design, aperture float64) Mount {
	switch d {
	case Newtonian:
		return pick(aperture >= 110, RockerBox, AltAzHand)
	case SchmidtCassegrain, MaksutovCassegrain:
		return AltAzGoTo
	case OtherCassegrain:
		return GermanEquatorial
	case Achromat, Apochromat:
		return pick(aperture >= 100, GermanEquatorial, AltAzHand)
	case Binoculars:
		return Tripod
	}
	return AltAzHand
}

// usualMaxAltitude in degrees. A rocker box is pushed with a lever arm that
// shrinks as cos h, six times the force at 80 degrees; the eyepiece end of a
// long refractor meets the tripod's legs above 75; a neck bends to about 60
// behind straight eyepieces.
func usualMaxAltitude(m Mount, ratio float64, d Design) float64 {
	switch m {
	case RockerBox:
		return 80
	case AltAzHand:
		refracts := d == Achromat || d == Apochromat
		return pick(refracts && ratio >= 8, 75.0, 80)
	case AltAzGoTo:
		return 85
	case Tripod:
		return 60
	case Parallelogram:
		return 80
	}
	return 90
}

// fillPlace fills what decides where the eyepiece stands.
func (i *Instrument) fillPlace(a *assumptions) {
	place := BehindDiagonal
	switch i.Design {
	case Newtonian:
		place = AtSide
	case Binoculars:
		place = Straight
	}
	word(a, "EyepiecePlace", &i.EyepiecePlace, place)
	a.number("TubeLength", &i.TubeLength, round(usualTube(i.Design, i.Aperture, i.FocalLength), 0.05))
	if i.EyepiecePlace == Straight {
		a.orZero("EyeOffset", &i.EyeOffset, 0) // on the axis: 0 is a real answer here
	} else {
		a.number("EyeOffset", &i.EyeOffset, i.usualOffset())
	}
	pivot, toEye := i.usualPivot()
	a.number("PivotHeight", &i.PivotHeight, round(pivot, 0.05))
	a.number("PivotToEye", &i.PivotToEye, round(toEye, 0.01))
}

// usualTube is the length of the tube in m; lengths in mm go in.
func usualTube(d Design, aperture, focal float64) float64 {
	switch d {
	case SchmidtCassegrain:
		return 2.1 * aperture / 1000
	case MaksutovCassegrain, OtherCassegrain:
		return 2.5 * aperture / 1000
	case Binoculars:
		return 3.6 * aperture / 1000
	case Newtonian:
		return (focal + 100) / 1000
	}
	return (0.95*focal + 100) / 1000 // tube without diagonal, with dew shield
}

// usualOffset in m: half the tube and a focuser 0.10 m high beside a
// Newtonian, the height of the diagonal elsewhere.
func (i *Instrument) usualOffset() float64 {
	if i.EyepiecePlace == AtSide {
		return i.Aperture/2000 + 0.10
	}
	return pick(i.Focuser == Barrel2, 0.12, 0.08)
}

// usualPivot returns the altitude axis' height over the ground and its
// distance to the eyepiece, m. A rocker box carries the tube at its balance
// point, 0.4 of the focal length above the mirror, nearer the mirror when
// that is large and heavy, with 0.2 m for board, cell and clearance below it;
// this gives 0.68 and 0.52 m for a 10 inch f/4.7, 0.76 and 0.46 measured.
func (i *Instrument) usualPivot() (height, toEye float64) {
	f, d := i.FocalLength/1000, i.Aperture/1000
	switch i.Mount {
	case RockerBox:
		balance := pick(i.Aperture > 300, 0.22, 0.40) * f
		height, toEye = balance+0.20, f-balance-i.EyeOffset
	case AltAzGoTo:
		height = 1.15
	case ForkWedge:
		height = 1.25
	case GermanEquatorial:
		height = 1.40
	case Tripod, Parallelogram:
		height = 1.55 // an adult's eye, bent a little
	default:
		height = 1.35
	}
	if i.Mount != RockerBox {
		toEye = i.usualReach(f, d)
	}
	return height, math.Max(toEye, 0.05)
}

// usualReach is the distance in m from the axis to the eyepiece of a tube
// held near its middle; f and d in m.
func (i *Instrument) usualReach(f, d float64) float64 {
	switch i.Design {
	case Newtonian:
		return 0.5 * f
	case SchmidtCassegrain:
		return 1.1 * d // 0.22 m at 203 mm
	case MaksutovCassegrain, OtherCassegrain:
		return 1.5 * d
	case Binoculars:
		return 0.1
	}
	return 0.6 * f // a 1000 mm refractor: 0.60 m
}

func (i *Instrument) fillCare(a *assumptions) {
	if a.has("SetupMinutes") || math.IsNaN(i.SetupMinutes) || i.SetupMinutes < 0 || math.IsInf(i.SetupMinutes, 0) {
		a.mark("SetupMinutes")
		i.SetupMinutes = usualSetup(i.Mount, i.Aperture)
	}
	a.yes("NeedsCollimation", &i.NeedsCollimation, i.Design == Newtonian)
	a.number("Weight", &i.Weight, round(usualWeight(i.Design, i.Mount, i.Aperture), 0.5))
	a.orZero("DewShield", &i.DewShield, pick(i.Design == Achromat || i.Design == Apochromat, 1.2, 0.0))
	a.orZero("MountPower", &i.MountPower, pick(i.Tracking || i.GoTo, 7.2, 0.0)) // 0.6 A at 12 V
	word(a, "Storage", &i.Storage, House)                                       // the warmest place needs the longest cooling
}

// usualSetup in minutes: polar and go-to alignment take most of it.
func usualSetup(m Mount, aperture float64) float64 {
	switch m {
	case RockerBox:
		return pick(aperture > 300, 25.0, 10)
	case AltAzGoTo:
		return 20
	case GermanEquatorial:
		return 25
	case ForkWedge:
		return 30
	case Parallelogram:
		return 10
	case Tripod:
		return 3
	}
	return 5
}

// usualWeight in kg of the heaviest piece, tube or mount.
func usualWeight(d Design, m Mount, aperture float64) float64 {
	mount := map[Mount]float64{RockerBox: aperture / 17, AltAzHand: 6, AltAzGoTo: 10, GermanEquatorial: 12, ForkWedge: 20, Tripod: 2.5, Parallelogram: 6}[m]
	per := aperture / 200
	tube := 6 * per * per // Cassegrains: 6 kg at 200 mm
	switch d {
	case Newtonian:
		tube = 10 * math.Pow(per, 1.7)
	case Achromat, Apochromat:
		tube = 19 * per * per // 3 kg at 80 mm, 11 at 150
	case Binoculars:
		tube = 10 * math.Pow(per, 1.7) // 0.9 kg at 50 mm
		mount = 0                      // carried by itself; the tripod comes apart
	}
	return math.Max(0.5, math.Max(tube, mount))
}
