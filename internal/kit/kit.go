package kit

import "time"

// Design is the optical design of an instrument.
type Design string

// The optical designs a club may own.
const (
	Newtonian          Design = "newtonian"
	Achromat           Design = "achromat"
	Apochromat         Design = "apochromat"
	SchmidtCassegrain  Design = "schmidt-cassegrain"
	MaksutovCassegrain Design = "maksutov-cassegrain"
	OtherCassegrain    Design = "cassegrain"
	Binoculars         Design = "binoculars"
	Custom             Design = "custom"
)

// Designs lists every design in the order in which a form offers them.
var Designs = []Design{Newtonian, Achromat, Apochromat, SchmidtCassegrain, MaksutovCassegrain, OtherCassegrain, Binoculars, Custom}

// Mount is the way an instrument is held and pointed.
type Mount string

// The mounts a club may own.
const (
	AltAzHand        Mount = "alt-az-hand" // alt-azimuth on a tripod, pushed by hand
	RockerBox        Mount = "rocker-box"  // alt-azimuth box on the ground, pushed by hand
	AltAzGoTo        Mount = "alt-az-goto" // motorised alt-azimuth
	GermanEquatorial Mount = "german-equatorial"
	ForkWedge        Mount = "fork-wedge"    // equatorial fork
	Tripod           Mount = "tripod"        // photo tripod head
	Parallelogram    Mount = "parallelogram" // counterweighted arm for binoculars
)

// Mounts lists every mount in the order in which a form offers them.
var Mounts = []Mount{RockerBox, AltAzHand, AltAzGoTo, GermanEquatorial, ForkWedge, Tripod, Parallelogram}

// Barrel is the diameter class of an eyepiece or focuser.
type Barrel string

// The barrels in common use; Fixed means that the eyepieces cannot be changed.
const (
	Barrel125 Barrel = "1.25in" // 31.75 mm
	Barrel2   Barrel = "2in"    // 50.8 mm
	Fixed     Barrel = "fixed"
)

// Glass is the material of the slowest-cooling optical part.
type Glass string

// Glass kinds; thermal properties stand in internal/field.
const (
	Borosilicate Glass = "borosilicate"
	PlateGlass   Glass = "plate"
	Crown        Glass = "crown"
	FusedSilica  Glass = "fused-silica"
	GlassCeramic Glass = "glass-ceramic"
)

// EyepiecePlace says where on the tube one looks in.
type EyepiecePlace string

// Places of the eyepiece.
const (
	AtSide         EyepiecePlace = "side"     // near the upper end of a Newtonian
	BehindDiagonal EyepiecePlace = "diagonal" // lower end, turned by a diagonal
	Straight       EyepiecePlace = "straight" // lower end, straight through
)

// Storage is where an instrument waits before the night.
type Storage string

// Places of storage.
const (
	House Storage = "house"
	Shed  Storage = "shed"
	Car   Storage = "car"
)

// Base is what every piece of gear has.
type Base struct {
	ID      int64    `json:"id,omitzero"`
	Version int64    `json:"-"`              // raised by each save; a save with an older version is refused
	Name    string   `json:"name"`           // what the club calls it
	OwnerID int64    `json:"owner,omitzero"` // volunteer who owns it; 0 means the club
	Count   int      `json:"count,omitzero"` // how many of the same the club has; at least 1
	Notes   string   `json:"notes,omitzero"`
	Retired bool     `json:"retired,omitzero"` // kept for the history, offered to no night
	Assumed []string `json:"assumed,omitzero"` // names of the fields that rest on a default, sorted
}

// Instrument is a telescope or a pair of binoculars with its mount. Lengths
// are in the unit their comment names; a field listed in Assumed holds a
// default of this package, not the club's own value.
type Instrument struct {
	Base
	Design       Design  `json:"design,omitzero"`
	Aperture     float64 `json:"aperture,omitzero"`    // clear aperture, mm
	FocalLength  float64 `json:"focalLength,omitzero"` // mm; 0 for binoculars
	Power        float64 `json:"power,omitzero"`       // fixed magnification of binoculars; 0 otherwise
	FixedField   float64 `json:"fixedField,omitzero"`  // true field of binoculars, degrees; 0 otherwise
	Obstruction  float64 `json:"obstruction,omitzero"` // diameter of the central obstruction over aperture, 0 to 0.6
	Thickness    float64 `json:"thickness,omitzero"`   // thickness of the primary mirror or front lens, mm
	Glass        Glass   `json:"glass,omitzero"`
	ClosedTube   bool    `json:"closedTube,omitzero"`
	Fan          bool    `json:"fan,omitzero"`
	Focuser      Barrel  `json:"focuser,omitzero"`
	MaxFieldStop float64 `json:"maxFieldStop,omitzero"` // widest field stop that the tube lights at least half, mm
	BackFocus    float64 `json:"backFocus,omitzero"`    // room behind the focuser for a corrector or a diagonal, mm

	Mount           Mount   `json:"mount,omitzero"`
	Tracking        bool    `json:"tracking,omitzero"`
	GoTo            bool    `json:"goTo,omitzero"`
	MeridianOverrun float64 `json:"meridianOverrun,omitzero"` // minutes a German equatorial may track past the meridian
	MinAltitude     float64 `json:"minAltitude,omitzero"`     // lowest altitude the mount reaches, degrees
	MaxAltitude     float64 `json:"maxAltitude,omitzero"`     // highest altitude the mount reaches comfortably, degrees

	EyepiecePlace EyepiecePlace `json:"eyepiecePlace,omitzero"`
	PivotHeight   float64       `json:"pivotHeight,omitzero"` // altitude axis above the ground, m
	PivotToEye    float64       `json:"pivotToEye,omitzero"`  // altitude axis to focuser or diagonal along the tube, m
	EyeOffset     float64       `json:"eyeOffset,omitzero"`   // eyepiece from the optical axis, m (tube radius and focuser, or diagonal height)

	SetupMinutes     float64     `json:"setupMinutes,omitzero"`
	NeedsCollimation bool        `json:"needsCollimation,omitzero"` // the optics are aligned before every use
	Weight           float64     `json:"weight,omitzero"`           // kg, heaviest single piece
	DewShield        float64     `json:"dewShield,omitzero"`        // shield length over aperture; 0 for none
	Heater           float64     `json:"heater,omitzero"`           // W of the heater on the front element; 0 for none
	MountPower       float64     `json:"mountPower,omitzero"`       // W drawn by drive and hand controller
	SolarFilter      SolarFilter `json:"solarFilter,omitzero"`
	Storage          Storage     `json:"storage,omitzero"`
	TimeConstant     float64     `json:"timeConstant,omitzero"`    // measured cooling time constant, hours; 0 when not measured
	TimeConstantFan  bool        `json:"timeConstantFan,omitzero"` // measured with the fan on
	Stand            string      `json:"stand,omitzero"`           // where it stands on the field
	TubeLength       float64     `json:"tubeLength,omitzero"`      // m, for drawings and layout
	ImageMirrored    *bool       `json:"imageMirrored,omitzero"`   // overrides the derived handedness; nil derives it
}

// SolarFilter records the filter over the whole front of an instrument. The
// Sun is never offered without one that is certified, full aperture and fitted.
type SolarFilter struct {
	FullAperture bool      `json:"fullAperture,omitzero"`
	Certified    bool      `json:"certified,omitzero"`
	Fitted       bool      `json:"fitted,omitzero"`
	Inspected    time.Time `json:"inspected,omitzero"` // date of the last inspection; zero when never
}

// Safe reports whether the record allows the Sun at all. Local rules and the
// operator's own inspection before each use come on top.
func (f SolarFilter) Safe() bool {
	return f.FullAperture && f.Certified && f.Fitted && !f.Inspected.IsZero()
}

// EyepieceClass is the correction class of an eyepiece, which says how fast a
// light cone it takes before stars at the edge lose their shape.
type EyepieceClass string

// Correction classes.
const (
	ClassBasic     EyepieceClass = "basic"     // Huygens, Ramsden
	ClassKellner   EyepieceClass = "kellner"   // Kellner and other three-lens forms
	ClassPlossl    EyepieceClass = "plossl"    // Ploessl and orthoscopic
	ClassWide      EyepieceClass = "wide"      // simple wide fields
	ClassCorrected EyepieceClass = "corrected" // modern wide fields corrected for fast cones
)

// EyepieceClasses lists the classes in the order in which a form offers them.
var EyepieceClasses = []EyepieceClass{ClassPlossl, ClassCorrected, ClassWide, ClassKellner, ClassBasic}

// Eyepiece is an ocular.
type Eyepiece struct {
	Base
	FocalLength   float64       `json:"focalLength,omitzero"`   // mm
	ApparentField float64       `json:"apparentField,omitzero"` // degrees
	FieldStop     float64       `json:"fieldStop,omitzero"`     // diameter, mm; 0 when unknown
	Barrel        Barrel        `json:"barrel,omitzero"`
	EyeRelief     float64       `json:"eyeRelief,omitzero"` // mm
	Class         EyepieceClass `json:"class,omitzero"`
	Weight        float64       `json:"weight,omitzero"` // g
}

// AmplifierKind tells a Barlow lens from a reducer and a corrector.
type AmplifierKind string

// Kinds of amplifier.
const (
	Barlow    AmplifierKind = "barlow"
	Reducer   AmplifierKind = "reducer"
	Corrector AmplifierKind = "corrector" // coma corrector of a fast paraboloid
)

// Amplifier is anything between objective and eyepiece that changes the focal
// length or the correction.
type Amplifier struct {
	Base
	Kind      AmplifierKind `json:"kind,omitzero"`
	Factor    float64       `json:"factor,omitzero"` // focal length multiplied by this; about 1 for a corrector
	Barrel    Barrel        `json:"barrel,omitzero"`
	OnlyFor   []Design      `json:"onlyFor,omitzero"`   // designs it fits; empty fits all
	BackFocus float64       `json:"backFocus,omitzero"` // room it needs behind the focuser, mm
}

// Fits reports whether the amplifier is made for the design.
func (a Amplifier) Fits(d Design) bool {
	for _, o := range a.OnlyFor {
		if o == d {
			return true
		}
	}
	return len(a.OnlyFor) == 0
}

// DiagonalKind says how a diagonal turns the light.
type DiagonalKind string

// Kinds of diagonal.
const (
	Mirror90 DiagonalKind = "mirror-90" // mirror or plain prism: upright, mirrored
	Amici90  DiagonalKind = "amici-90"  // roof prism: upright, correct
	Amici45  DiagonalKind = "amici-45"  // roof prism at 45 degrees: upright, correct
)

// Diagonal turns the light to a comfortable place.
type Diagonal struct {
	Base
	Kind     DiagonalKind `json:"kind,omitzero"`
	Barrel   Barrel       `json:"barrel,omitzero"`
	ForID    int64        `json:"for,omitzero"`      // instrument it stays with; 0 fits any of its barrel
	MaxStop  float64      `json:"maxStop,omitzero"`  // clear opening, mm; 0 means the barrel's
	PathUsed float64      `json:"pathUsed,omitzero"` // light path it takes, mm
}

// FilterKind says what a filter is for.
type FilterKind string

// Kinds of filter.
const (
	NeutralFilter FilterKind = "neutral"     // dims the Moon and bright planets
	NebulaFilter  FilterKind = "narrow-band" // passes the lines of hydrogen beta and oxygen
	OxygenFilter  FilterKind = "oxygen"      // passes the doubly ionised oxygen lines only
	ColourFilter  FilterKind = "colour"
)

// Filter screws into an eyepiece.
type Filter struct {
	Base
	Kind         FilterKind `json:"kind,omitzero"`
	Barrel       Barrel     `json:"barrel,omitzero"`
	Transmission float64    `json:"transmission,omitzero"` // 0 to 1 in its pass band
}

// FinderKind is how a finder shows the sky.
type FinderKind string

// Kinds of finder.
const (
	UnitPower          FinderKind = "unit-power"       // a dot or ring on the naked-eye sky
	StraightFinder     FinderKind = "straight"         // turned by 180 degrees
	RightAngleFinder   FinderKind = "right-angle"      // upright and mirrored
	CorrectAngleFinder FinderKind = "right-angle-roof" // upright and correct
)

// Finder sits on an instrument.
type Finder struct {
	Base
	Kind     FinderKind `json:"kind,omitzero"`
	Aperture float64    `json:"aperture,omitzero"` // mm
	Power    float64    `json:"power,omitzero"`
	Field    float64    `json:"field,omitzero"` // true field, degrees
	ForID    int64      `json:"for,omitzero"`   // instrument it sits on; 0 when loose
}

// DewGearKind tells shields from heaters.
type DewGearKind string

// Kinds of dew gear.
const (
	Shield      DewGearKind = "shield"
	HeaterStrip DewGearKind = "heater-strip"
)

// DewGear keeps glass dry.
type DewGear struct {
	Base
	Kind        DewGearKind `json:"kind,omitzero"`
	MinDiameter float64     `json:"minDiameter,omitzero"` // smallest tube it fits, mm
	MaxDiameter float64     `json:"maxDiameter,omitzero"` // largest tube it fits, mm
	Length      float64     `json:"length,omitzero"`      // shield length, mm
	Power       float64     `json:"power,omitzero"`       // W at full duty
	ForID       int64       `json:"for,omitzero"`         // instrument it stays with; 0 when loose
}

// BatteryKind is the chemistry of a battery.
type BatteryKind string

// Kinds of battery.
const (
	LeadAcid BatteryKind = "lead-acid"
	LiFePO4  BatteryKind = "lifepo4"
)

// Battery feeds mounts and heaters.
type Battery struct {
	Base
	Kind     BatteryKind `json:"kind,omitzero"`
	Capacity float64     `json:"capacity,omitzero"` // rated, Ah
	Voltage  float64     `json:"voltage,omitzero"`  // nominal, V
	Aged     bool        `json:"aged,omitzero"`     // age unknown or over three years
	ForID    int64       `json:"for,omitzero"`      // instrument it feeds; 0 when loose
}

// StepKind tells a stool from a ladder.
type StepKind string

// Kinds of step.
const (
	Stool     StepKind = "stool"
	RailStool StepKind = "stool-with-rail"
	Ladder    StepKind = "ladder"
	Chair     StepKind = "observing-chair"
)

// Steps lift a guest, or seat one.
type Steps struct {
	Base
	Kind   StepKind `json:"kind,omitzero"`
	Height float64  `json:"height,omitzero"` // highest tread or seat, m
}

// Kit is all the gear of a club, or the part of it that a night uses.
type Kit struct {
	Instruments []Instrument `json:"instruments,omitzero"`
	Eyepieces   []Eyepiece   `json:"eyepieces,omitzero"`
	Amplifiers  []Amplifier  `json:"amplifiers,omitzero"`
	Diagonals   []Diagonal   `json:"diagonals,omitzero"`
	Filters     []Filter     `json:"filters,omitzero"`
	Finders     []Finder     `json:"finders,omitzero"`
	DewGear     []DewGear    `json:"dewGear,omitzero"`
	Batteries   []Battery    `json:"batteries,omitzero"`
	Steps       []Steps      `json:"steps,omitzero"`
}
