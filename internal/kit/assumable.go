package kit

import (
	"math"
	"slices"
)

// Assumable is a field that may be left empty: Fill puts a default in it and
// names it in Assumed. Label is what a form calls it, Unit its unit (empty
// for words and yes/no), Why how the default is found.
type Assumable struct {
	Field, Label, Unit, Why string
}

// InstrumentFields lists the fields of an instrument that may be left empty.
var InstrumentFields = []Assumable{
	{"FocalLength", "focal length", "mm", "the usual focal ratio of the design and aperture"},
	{"Power", "power", "times", "an exit pupil of 5 mm"},
	{"FixedField", "true field", "degrees", "an apparent field of 62 degrees"},
	{"Obstruction", "central obstruction", "of the aperture", "usual for the design and focal ratio"},
	{"Thickness", "glass thickness", "mm", "usual for the design and aperture"},
	{"Glass", "glass", "", "usual for the design"},
	{"ClosedTube", "closed tube", "", "lenses and corrector plates close a tube"},
	{"Focuser", "focuser", "", "usual for the design and aperture"},
	{"MaxFieldStop", "widest field stop", "mm", "the barrel, or the baffle of a Cassegrain"},
	{"BackFocus", "room behind the focuser", "mm", "usual for the design"},
	{"Mount", "mount", "", "usual for the design and aperture"},
	{"Tracking", "tracking", "", "usual for the mount"},
	{"GoTo", "finds by itself", "", "usual for the mount"},
	{"MeridianOverrun", "tracks past the meridian for", "minutes", "none, to be careful"},
	{"MinAltitude", "lowest altitude", "degrees", "usual for the mount"},
	{"MaxAltitude", "highest comfortable altitude", "degrees", "usual for the mount and tube"},
	{"EyepiecePlace", "place of the eyepiece", "", "usual for the design"},
	{"PivotHeight", "altitude axis above ground", "m", "usual for the mount and tube"},
	{"PivotToEye", "altitude axis to eyepiece", "m", "balance point of such a tube"},
	{"EyeOffset", "eyepiece beside the optical axis", "m", "tube radius and focuser, or the diagonal"},
	{"SetupMinutes", "setting up", "minutes", "usual for the mount"},
	{"NeedsCollimation", "aligned before use", "", "Newtonians are"},
	{"Weight", "heaviest piece", "kg", "usual for the design, aperture and mount"},
	{"DewShield", "dew shield", "times the aperture", "refractors have one built in"},
	{"MountPower", "power drawn", "W", "0.6 A at 12 V when motors run"},
	{"Storage", "stored in", "", "the warmest place, to be careful"},
	{"TubeLength", "tube length", "m", "usual for the design"},
}

// EyepieceFields lists the fields of an eyepiece that may be left empty.
// FieldStop is not among them: unknown is 0, and the apparent field serves.
var EyepieceFields = []Assumable{
	{"ApparentField", "apparent field", "degrees", "the narrowest usual for its class, or from the field stop"},
	{"Barrel", "barrel", "", "2 inch when the field stop needs it"},
	{"EyeRelief", "eye relief", "mm", "usual for its class and focal length"},
	{"Class", "correction", "", "from the apparent field"},
	{"Weight", "weight", "g", "usual for its barrel"},
}

// AmplifierFields lists the fields of an amplifier that may be left empty.
var AmplifierFields = []Assumable{
	{"Factor", "factor", "times", "the usual of its kind"},
	{"Barrel", "barrel", "", "the usual of its kind"},
	{"OnlyFor", "made for", "", "the usual of its kind"},
	{"BackFocus", "room needed", "mm", "the usual of its kind"},
}

// DiagonalFields lists the fields of a diagonal that may be left empty.
var DiagonalFields = []Assumable{
	{"Kind", "kind", "", "a plain mirror"},
	{"Barrel", "barrel", "", "1.25 inch"},
	{"MaxStop", "clear opening", "mm", "the barrel's"},
	{"PathUsed", "light path", "mm", "usual for its barrel"},
}

// FilterFields lists the fields of a filter that may be left empty.
var FilterFields = []Assumable{
	{"Barrel", "barrel", "", "1.25 inch"},
	{"Transmission", "transmission", "of the light", "the usual of its kind"},
}

// FinderFields lists the fields of a finder that may be left empty.
var FinderFields = []Assumable{
	{"Kind", "kind", "", "straight-through"},
	{"Aperture", "aperture", "mm", "50 mm, the common size"},
	{"Power", "power", "times", "8 times, the common power"},
	{"Field", "true field", "degrees", "an apparent field of 45 degrees"},
}

// DewGearFields lists the fields of dew gear that may be left empty.
var DewGearFields = []Assumable{
	{"MinDiameter", "smallest tube", "mm", "nine tenths of the largest"},
	{"MaxDiameter", "largest tube", "mm", "a tenth more than the smallest"},
	{"Length", "length", "mm", "one and a half times the tube"},
	{"Power", "power", "W", "by area: 10 W for 200 mm"},
}

// BatteryFields lists the fields of a battery that may be left empty.
var BatteryFields = []Assumable{
	{"Kind", "kind", "", "lead-acid, the weaker in the cold"},
	{"Voltage", "voltage", "V", "nominal for its kind"},
	{"Aged", "age over three years", "", "taken as old, to be careful"},
}

// StepsFields lists the fields of steps that may be left empty.
var StepsFields = []Assumable{
	{"Height", "highest tread", "m", "the usual of its kind"},
}

// assumptions is the working list of one Fill: which fields count as missing.
type assumptions struct{ names []string }

// missing starts from a copy, so that Fill never writes into the caller's slice.
func missing(assumed []string) *assumptions {
	return &assumptions{names: slices.Clone(assumed)}
}

func (a *assumptions) has(field string) bool { return slices.Contains(a.names, field) }

func (a *assumptions) mark(field string) {
	if !a.has(field) {
		a.names = append(a.names, field)
	}
}

func (a *assumptions) sorted() []string {
	slices.Sort(a.names)
	return slices.Compact(a.names)
}

// number replaces v when the field is assumed or when v cannot be a real
// value: not above 0, or not finite.
func (a *assumptions) number(field string, v *float64, standIn float64) {
	a.atLeast(field, v, math.SmallestNonzeroFloat64, standIn)
}

// atLeast is number for sizes that cannot be below a least one: a telescope of
// a nanometre is a slip of the unit, and dividing by it ruins every number.
func (a *assumptions) atLeast(field string, v *float64, least, standIn float64) {
	if a.has(field) || !(*v >= least) || math.IsInf(*v, 0) {
		a.mark(field)
		*v = standIn
	}
}

// orZero is number for fields where 0 and negative values are real answers.
func (a *assumptions) orZero(field string, v *float64, standIn float64) {
	if a.has(field) || math.IsNaN(*v) || math.IsInf(*v, 0) {
		a.mark(field)
		*v = standIn
	}
}

func (a *assumptions) yes(field string, v *bool, standIn bool) {
	if a.has(field) {
		*v = standIn
	}
}

// word replaces v when the field is assumed or empty.
func word[T ~string](a *assumptions, field string, v *T, standIn T) {
	if a.has(field) || *v == "" {
		a.mark(field)
		*v = standIn
	}
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }

// round keeps a default to a step that shows it is not a measurement.
func round(v, step float64) float64 { return math.Round(v/step) * step }
