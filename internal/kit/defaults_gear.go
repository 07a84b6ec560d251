package kit

import "math"

// Defaults of everything but instruments; common practice, from memory.

// Fill returns the eyepiece with a default in every field that is named in
// Assumed or cannot be true as it stands. FieldStop stays 0 when unknown.
func (e Eyepiece) Fill() Eyepiece {
	a := missing(e.Assumed)
	a.atLeast("FocalLength", &e.FocalLength, 0.5, 20) // refused by Check; keeps arithmetic alive
	a.orZero("FieldStop", &e.FieldStop, 0)
	if e.FieldStop < 0 {
		e.FieldStop = 0
	}
	knownField := !a.has("ApparentField") && e.ApparentField > 0
	if a.has("Class") || e.Class == "" {
		a.mark("Class")
		e.Class = ClassPlossl // the most common kind, when nothing is known
		if field := pick(knownField, e.ApparentField, degrees(e.FieldStop/e.FocalLength)); field > 0 {
			e.Class = classOf(field)
		}
	}
	field := usualField(e.Class)
	if e.FieldStop > 0 {
		// Angle-preserving law; real eyepieces lie within a few per cent.
		field = math.Min(120, round(degrees(e.FieldStop/e.FocalLength), 1))
	}
	a.number("ApparentField", &e.ApparentField, field)
	word(a, "Barrel", &e.Barrel, e.usualBarrel())
	a.number("EyeRelief", &e.EyeRelief, round(usualRelief(e.Class, e.FocalLength), 1))
	a.number("Weight", &e.Weight, pick(e.Barrel == Barrel2, 450.0, 120))
	e.Assumed = a.sorted()
	return e
}

// classOf guesses the class from the apparent field in degrees.
func classOf(field float64) EyepieceClass {
	switch {
	case field < 38:
		return ClassBasic
	case field < 47:
		return ClassKellner
	case field < 57:
		return ClassPlossl
	case field < 73:
		return ClassWide
	}
	return ClassCorrected
}

// usualField is the narrowest apparent field, in degrees, that is usual in
// the class, so that no field is promised that is not there.
func usualField(c EyepieceClass) float64 {
	switch c {
	case ClassBasic:
		return 35
	case ClassKellner:
		return 40
	case ClassWide:
		return 60
	case ClassCorrected:
		return 68
	}
	return 50
}

// usualBarrel: a field stop over about 28.6 mm needs 2 inch. The 32 mm of 50
// degrees and the 24 mm of 68 degrees, both 1.25 inch, fall just below it.
func (e Eyepiece) usualBarrel() Barrel {
	stop := e.FieldStop
	if stop == 0 {
		stop = e.FocalLength * e.ApparentField / degrees(1)
	}
	return pick(stop > 28.6, Barrel2, Barrel125)
}

// usualRelief in mm: simple forms scale with focal length, corrected wide
// fields are designed for a constant one.
func usualRelief(c EyepieceClass, focal float64) float64 {
	switch c {
	case ClassBasic:
		return math.Max(2, 0.3*focal)
	case ClassKellner:
		return math.Max(3, 0.45*focal)
	case ClassWide:
		return math.Max(6, 0.6*focal)
	case ClassCorrected:
		return 15
	}
	return math.Max(3, 0.7*focal)
}

// Fill returns the amplifier with a default in every missing field.
func (f Amplifier) Fill() Amplifier {
	a := missing(f.Assumed)
	word(a, "Kind", &f.Kind, Barlow)
	factor, room, barrel := 2.0, 0.0, Barrel125 // a Barlow pushes the focus outwards and needs no room
	switch f.Kind {
	case Reducer:
		factor, room, barrel = 0.63, 60, Barrel2
	case Corrector:
		factor, room, barrel = 1.0, 20, Barrel2
	}
	a.atLeast("Factor", &f.Factor, 0.1, factor)
	word(a, "Barrel", &f.Barrel, barrel)
	if a.has("OnlyFor") {
		switch f.Kind {
		case Reducer:
			f.OnlyFor = []Design{SchmidtCassegrain}
		case Corrector:
			f.OnlyFor = []Design{Newtonian}
		}
	}
	a.orZero("BackFocus", &f.BackFocus, room)
	f.Assumed = a.sorted()
	return f
}

// Fill returns the diagonal with a default in every missing field.
func (d Diagonal) Fill() Diagonal {
	a := missing(d.Assumed)
	word(a, "Kind", &d.Kind, Mirror90)
	word(a, "Barrel", &d.Barrel, Barrel125)
	a.number("MaxStop", &d.MaxStop, d.Barrel.WidestStop())
	a.number("PathUsed", &d.PathUsed, pick(d.Barrel == Barrel2, 110.0, 75))
	d.Assumed = a.sorted()
	return d
}

// Fill returns the filter with a default in every missing field.
func (f Filter) Fill() Filter {
	a := missing(f.Assumed)
	word(a, "Kind", &f.Kind, NebulaFilter)
	word(a, "Barrel", &f.Barrel, Barrel125)
	through := 0.90 // in its pass band
	switch f.Kind {
	case NeutralFilter:
		through = 0.20
	case ColourFilter:
		through = 0.50
	}
	a.number("Transmission", &f.Transmission, through)
	f.Assumed = a.sorted()
	return f
}

// Fill returns the finder with a default in every missing field.
func (f Finder) Fill() Finder {
	a := missing(f.Assumed)
	word(a, "Kind", &f.Kind, StraightFinder)
	if f.Kind == UnitPower {
		a.orZero("Aperture", &f.Aperture, 0)
		a.number("Power", &f.Power, 1)
		a.number("Field", &f.Field, 15) // what the window lets one see of the sky
	} else {
		a.number("Aperture", &f.Aperture, 50)
		a.number("Power", &f.Power, 8)
		a.number("Field", &f.Field, round(45/f.Power, 0.1))
	}
	f.Assumed = a.sorted()
	return f
}

// Fill returns the dew gear with a default in every missing field.
func (d DewGear) Fill() DewGear {
	a := missing(d.Assumed)
	word(a, "Kind", &d.Kind, Shield)
	if !a.has("MaxDiameter") && d.MaxDiameter > 0 {
		a.number("MinDiameter", &d.MinDiameter, round(0.9*d.MaxDiameter, 1))
	}
	a.number("MinDiameter", &d.MinDiameter, 200)
	a.number("MaxDiameter", &d.MaxDiameter, round(1.1*d.MinDiameter, 1))
	if d.Kind == Shield {
		a.number("Length", &d.Length, round(1.5*d.MaxDiameter, 10))
		a.orZero("Power", &d.Power, 0)
	} else {
		a.orZero("Length", &d.Length, 0)
		// Heat goes with the area: 10 W suffice a 200 mm corrector in damp air.
		a.number("Power", &d.Power, round(10*math.Pow(d.MaxDiameter/200, 2), 0.5)+0.5)
	}
	d.Assumed = a.sorted()
	return d
}

// Fill returns the battery with a default in every missing field.
func (b Battery) Fill() Battery {
	a := missing(b.Assumed)
	word(a, "Kind", &b.Kind, LeadAcid)
	a.number("Capacity", &b.Capacity, 7) // refused by Check; the small common block
	a.number("Voltage", &b.Voltage, pick(b.Kind == LiFePO4, 12.8, 12))
	a.yes("Aged", &b.Aged, true)
	b.Assumed = a.sorted()
	return b
}

// Fill returns the steps with a default in every missing field.
func (s Steps) Fill() Steps {
	a := missing(s.Assumed)
	word(a, "Kind", &s.Kind, Stool)
	height := map[StepKind]float64{Stool: 0.25, RailStool: 0.45, Ladder: 0.90, Chair: 0.60}[s.Kind]
	a.number("Height", &s.Height, pick(height > 0, height, 0.25))
	s.Assumed = a.sorted()
	return s
}

// Fill returns the kit with every piece filled, in new slices.
func (k Kit) Fill() Kit {
	return Kit{
		Instruments: fillAll(k.Instruments, Instrument.Fill),
		Eyepieces:   fillAll(k.Eyepieces, Eyepiece.Fill),
		Amplifiers:  fillAll(k.Amplifiers, Amplifier.Fill),
		Diagonals:   fillAll(k.Diagonals, Diagonal.Fill),
		Filters:     fillAll(k.Filters, Filter.Fill),
		Finders:     fillAll(k.Finders, Finder.Fill),
		DewGear:     fillAll(k.DewGear, DewGear.Fill),
		Batteries:   fillAll(k.Batteries, Battery.Fill),
		Steps:       fillAll(k.Steps, Steps.Fill),
	}
}

func fillAll[T any](all []T, fill func(T) T) []T {
	out := make([]T, len(all))
	for n, one := range all {
		out[n] = fill(one)
	}
	return out
}
