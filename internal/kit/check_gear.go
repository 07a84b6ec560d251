package kit

// Bore is the full opening of a barrel in mm: nothing wider passes. The
// customary field stops are a little smaller (WidestStop). 0 for Fixed.
func (b Barrel) Bore() float64 {
	switch b {
	case Barrel125:
		return 29
	case Barrel2:
		return 48
	}
	return 0
}

// Check returns what is wrong with the eyepiece; nil when nothing is.
func (e Eyepiece) Check() []Fault {
	c := check(e.Base)
	focal := c.within("FocalLength", e.FocalLength, 2, 100, "mm")
	c.within("ApparentField", e.ApparentField, 20, 120, "degrees")
	oneOf(c, "Barrel", e.Barrel, Barrel125, Barrel2)
	if c.orZero("FieldStop", e.FieldStop, 1, 60, "mm") && e.FieldStop > 0 && !c.skips("FieldStop") {
		bore := e.Barrel.Bore()
		switch {
		case !c.skips("Barrel") && bore > 0 && e.FieldStop > bore:
			c.add("FieldStop", "wider than the barrel: at most %s mm", short(bore))
		case focal && degrees(e.FieldStop/e.FocalLength) > 130:
			c.add("FieldStop", "with %s mm focal length that is a field of %.0f degrees: at most 120", short(e.FocalLength), degrees(e.FieldStop/e.FocalLength))
		}
	}
	oneOf(c, "Class", e.Class, EyepieceClasses...)
	c.within("EyeRelief", e.EyeRelief, 1, 60, "mm")
	c.within("Weight", e.Weight, 5, 3000, "g")
	return c.faults
}

// Check returns what is wrong with the amplifier; nil when nothing is.
func (a Amplifier) Check() []Fault {
	c := check(a.Base)
	switch a.Kind {
	case Barlow:
		c.within("Factor", a.Factor, 1.1, 6, "times")
	case Reducer:
		c.within("Factor", a.Factor, 0.3, 0.95, "times")
	case Corrector:
		c.within("Factor", a.Factor, 0.9, 1.3, "times")
	default:
		c.add("Kind", NotListed)
	}
	oneOf(c, "Barrel", a.Barrel, Barrel125, Barrel2)
	for _, d := range a.OnlyFor {
		oneOf(c, "OnlyFor", d, Designs...)
	}
	c.within("BackFocus", a.BackFocus, 0, 300, "mm")
	return c.faults
}

// Check returns what is wrong with the diagonal; nil when nothing is.
func (d Diagonal) Check() []Fault {
	c := check(d.Base)
	oneOf(c, "Kind", d.Kind, Mirror90, Amici90, Amici45)
	oneOf(c, "Barrel", d.Barrel, Barrel125, Barrel2)
	c.orZero("MaxStop", d.MaxStop, 10, 60, "mm")
	c.within("PathUsed", d.PathUsed, 0, 250, "mm")
	return c.faults
}

// Check returns what is wrong with the filter; nil when nothing is. Filters
// that screw into an eyepiece never make the Sun safe: one that passes less
// than a hundredth is taken for such a filter and refused.
func (f Filter) Check() []Fault {
	c := check(f.Base)
	oneOf(c, "Kind", f.Kind, NeutralFilter, NebulaFilter, OxygenFilter, ColourFilter)
	oneOf(c, "Barrel", f.Barrel, Barrel125, Barrel2)
	if f.Transmission > 0 && f.Transmission < 0.01 && !c.skips("Transmission") {
		c.add("Transmission", "0.01 to 1; an eyepiece filter for the Sun is dangerous and is not used")
	} else {
		c.within("Transmission", f.Transmission, 0.01, 1, "of the light")
	}
	return c.faults
}

// Check returns what is wrong with the finder; nil when nothing is.
func (f Finder) Check() []Fault {
	c := check(f.Base)
	oneOf(c, "Kind", f.Kind, UnitPower, StraightFinder, RightAngleFinder, CorrectAngleFinder)
	if f.Kind != UnitPower {
		c.within("Aperture", f.Aperture, 10, 120, "mm")
		c.within("Power", f.Power, 2, 30, "times")
	}
	c.within("Field", f.Field, 0.5, 40, "degrees")
	return c.faults
}

// Check returns what is wrong with the dew gear; nil when nothing is.
func (d DewGear) Check() []Fault {
	c := check(d.Base)
	oneOf(c, "Kind", d.Kind, Shield, HeaterStrip)
	low := c.within("MinDiameter", d.MinDiameter, 10, 2000, "mm")
	high := c.within("MaxDiameter", d.MaxDiameter, 10, 2000, "mm")
	if low && high && !c.skips("MinDiameter") && !c.skips("MaxDiameter") && d.MinDiameter > d.MaxDiameter {
		c.add("MinDiameter", "must not be larger than the largest, %s mm", short(d.MaxDiameter))
	}
	if d.Kind == Shield {
		c.within("Length", d.Length, 20, 2000, "mm")
	} else {
		c.within("Power", d.Power, 0.1, 200, "W")
	}
	return c.faults
}

// Check returns what is wrong with the battery; nil when nothing is.
func (b Battery) Check() []Fault {
	c := check(b.Base)
	oneOf(c, "Kind", b.Kind, LeadAcid, LiFePO4)
	c.within("Capacity", b.Capacity, 0.5, 500, "Ah")
	c.within("Voltage", b.Voltage, 3, 50, "V")
	return c.faults
}

// Check returns what is wrong with the steps; nil when nothing is.
func (s Steps) Check() []Fault {
	c := check(s.Base)
	oneOf(c, "Kind", s.Kind, Stool, RailStool, Ladder, Chair)
	c.within("Height", s.Height, 0.1, 3, "m")
	return c.faults
}
