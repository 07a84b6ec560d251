package kit

import (
	"fmt"
	"slices"
	"strconv"
)

// Fault is one thing wrong with a piece of gear, to be shown beside its field.
// Field is the name of the Go field, the same as in Base.Assumed.
type Fault struct {
	Field   string
	Message string
}

// NotListed is the message of a word that its field does not know. Where
// nobody sees a list, a reader of files says the words instead.
const NotListed = "choose one from the list"

// checker gathers faults; a field named in assumed is not checked, since a
// default will stand in for it.
type checker struct {
	assumed []string
	faults  []Fault
}

func check(b Base) *checker {
	c := &checker{assumed: b.Assumed}
	if b.Name == "" {
		c.add("Name", "give it a name")
	}
	if len(b.Name) > 80 {
		c.add("Name", "at most 80 letters")
	}
	if b.Count < 1 || b.Count > 99 {
		c.add("Count", "1 to 99 pieces")
	}
	return c
}

func (c *checker) add(field, format string, args ...any) {
	c.faults = append(c.faults, Fault{field, fmt.Sprintf(format, args...)})
}

func (c *checker) skips(field string) bool { return slices.Contains(c.assumed, field) }

// within wants low <= v <= high; NaN fails it.
func (c *checker) within(field string, v, low, high float64, unit string) bool {
	if c.skips(field) || v >= low && v <= high {
		return true
	}
	c.add(field, "%s to %s%s", short(low), short(high), spaced(unit))
	return false
}

// orZero is within, with 0 allowed for "unknown" or "none".
func (c *checker) orZero(field string, v, low, high float64, unit string) bool {
	if v == 0 {
		return true
	}
	return c.within(field, v, low, high, unit)
}

// oneOf wants a known word; an empty one is a missing value, which Fill fills.
func oneOf[T ~string](c *checker, field string, v T, known ...T) {
	if v != "" && !c.skips(field) && !slices.Contains(known, v) {
		c.add(field, NotListed)
	}
}

func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func spaced(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// Check returns what is wrong with the instrument, in the order of the form;
// nil when nothing is. Ranges are wide: they stop slips of the finger and
// mixed-up units, not unusual instruments.
func (i Instrument) Check() []Fault {
	c := check(i.Base)
	oneOf(c, "Design", i.Design, Designs...)
	if i.Design == "" {
		c.add("Design", NotListed)
	}
	apertureOK := c.within("Aperture", i.Aperture, 20, 2000, "mm")
	if i.Design == Binoculars {
		i.checkBinoculars(c, apertureOK)
	} else {
		i.checkTelescope(c, apertureOK)
	}
	i.checkOptics(c, apertureOK)
	i.checkMount(c)
	i.checkCare(c)
	return c.faults
}

func (i Instrument) checkBinoculars(c *checker, apertureOK bool) {
	if c.within("Power", i.Power, 3, 60, "times") && apertureOK && !c.skips("Power") {
		if p := i.Aperture / i.Power; p < 1 || p > 12 {
			c.add("Power", "%s x %s gives an exit pupil of %.1f mm: 1 to 12 mm", short(i.Power), short(i.Aperture), p)
		}
	}
	if c.within("FixedField", i.FixedField, 0.5, 20, "degrees") && !c.skips("FixedField") && i.Power*i.FixedField > 120 {
		c.add("FixedField", "%s degrees at %s times would look %.0f degrees wide: at most 120", short(i.FixedField), short(i.Power), i.Power*i.FixedField)
	}
	if i.FocalLength != 0 && !c.skips("FocalLength") {
		c.add("FocalLength", "leave empty for binoculars: give the power")
	}
	if i.Focuser != "" && i.Focuser != Fixed && i.Focuser != Barrel125 && !c.skips("Focuser") {
		c.add("Focuser", "binoculars have fixed or 1.25 inch eyepieces")
	}
}

func (i Instrument) checkTelescope(c *checker, apertureOK bool) {
	if c.within("FocalLength", i.FocalLength, 50, 20000, "mm") && apertureOK && !c.skips("FocalLength") {
		if r := i.FocalLength / i.Aperture; r < 2 || r > 30 {
			c.add("FocalLength", "that is f/%.1f: f/2 to f/30", r)
		}
	}
	oneOf(c, "Focuser", i.Focuser, Barrel125, Barrel2)
}

func (i Instrument) checkOptics(c *checker, apertureOK bool) {
	if !c.skips("Obstruction") {
		refracts := i.Design == Achromat || i.Design == Apochromat || i.Design == Binoculars
		switch {
		case refracts && i.Obstruction != 0:
			c.add("Obstruction", "lenses have no central obstruction: 0")
		case i.Obstruction > 1:
			// Typed in mm, most likely.
			c.add("Obstruction", "a share of the aperture, 0 to 0.6: a 69 mm secondary in a 203 mm tube is 0.34")
		case needsSecondary(i.Design):
			c.within("Obstruction", i.Obstruction, 0.05, 0.6, "of the aperture")
		default:
			c.within("Obstruction", i.Obstruction, 0, 0.6, "of the aperture")
		}
	}
	if c.within("Thickness", i.Thickness, 2, 200, "mm") && apertureOK && !c.skips("Thickness") && i.Thickness > i.Aperture {
		c.add("Thickness", "thicker than the aperture: at most %s mm", short(i.Aperture))
	}
	oneOf(c, "Glass", i.Glass, Borosilicate, PlateGlass, Crown, FusedSilica, GlassCeramic)
	if i.Design != Binoculars {
		c.within("MaxFieldStop", i.MaxFieldStop, 5, 100, "mm")
	}
	c.within("BackFocus", i.BackFocus, 0, 500, "mm")
}

func (i Instrument) checkMount(c *checker) {
	oneOf(c, "Mount", i.Mount, Mounts...)
	low := c.within("MinAltitude", i.MinAltitude, -5, 60, "degrees")
	high := c.within("MaxAltitude", i.MaxAltitude, 30, 90, "degrees")
	if low && high && !c.skips("MinAltitude") && !c.skips("MaxAltitude") && i.MinAltitude >= i.MaxAltitude {
		c.add("MinAltitude", "must be lower than the highest altitude, %s degrees", short(i.MaxAltitude))
	}
	c.within("MeridianOverrun", i.MeridianOverrun, 0, 360, "minutes")
	oneOf(c, "EyepiecePlace", i.EyepiecePlace, AtSide, BehindDiagonal, Straight)
	c.within("PivotHeight", i.PivotHeight, 0.05, 4, "m")
	c.within("PivotToEye", i.PivotToEye, 0.01, 6, "m")
	c.within("EyeOffset", i.EyeOffset, 0, 1.5, "m")
}

func (i Instrument) checkCare(c *checker) {
	c.within("SetupMinutes", i.SetupMinutes, 0, 240, "minutes")
	c.within("Weight", i.Weight, 0.1, 500, "kg")
	c.within("DewShield", i.DewShield, 0, 4, "times the aperture")
	c.within("Heater", i.Heater, 0, 200, "W")
	c.within("MountPower", i.MountPower, 0, 200, "W")
	oneOf(c, "Storage", i.Storage, House, Shed, Car)
	c.orZero("TimeConstant", i.TimeConstant, 0.05, 12, "hours")
	c.within("TubeLength", i.TubeLength, 0.05, 10, "m")
	f := i.SolarFilter
	if f.Fitted && !(f.FullAperture && f.Certified) {
		// Deliberately blunt: an eyepiece filter or an unknown sheet is how eyes are lost.
		c.add("SolarFilter", "only a certified filter over the full aperture may be marked as fitted")
	}
}
