package catalog

import "duskboard/internal/sky"

// Kind is what a target is, in the words of the trade.
type Kind string

// Kinds of target.
const (
	KindSun         Kind = "sun"
	KindMoon        Kind = "moon"
	KindPlanet      Kind = "planet"
	KindComet       Kind = "comet"
	KindMinorPlanet Kind = "minor planet"
	KindOpen        Kind = "open cluster"
	KindGlobular    Kind = "globular cluster"
	KindNebula      Kind = "nebula" // emission or reflection
	KindPlanetary   Kind = "planetary nebula"
	KindRemnant     Kind = "supernova remnant"
	KindGalaxy      Kind = "galaxy"
	KindDouble      Kind = "double star"
	KindCarbon      Kind = "carbon star"
	KindVariable    Kind = "variable star"
	KindStar        Kind = "bright star"
	KindAsterism    Kind = "asterism"
	KindDark        Kind = "dark nebula"
	KindCloud       Kind = "star cloud"
	KindOther       Kind = "other" // the club's own, of no kind told
)

// Reach is the least that shows a target well under a fair sky.
type Reach string

// The three reaches.
const (
	ReachEye        Reach = "eye"
	ReachBinoculars Reach = "binoculars"
	ReachTelescope  Reach = "telescope"
)

// Target is something that can be shown.
type Target struct {
	ID            string   // stable and short: "m31", "ngc869", "albireo", "moon", "jupiter", "own-12"
	Name          string   // what a guest is told: "Andromeda Galaxy"
	Designations  []string // "M 31", "NGC 224"; other names too: "Plough"
	Kind          Kind
	Constellation string // three letters of the IAU; empty for what moves
	Body          sky.Body
	Moves         bool       // true for the Sun, the Moon and planets: Body holds which
	Star          sky.Star   // the place when Moves is false
	Orbit         *sky.Orbit // of a comet or minor planet; it then gives the place
	Magnitude     float64    // integrated V magnitude, of a double the total, of an asterism its brightest star; NaN for what moves (sky knows) and for dark nebulae
	BV            float64    // colour index of a star; NaN unknown or not a star
	MajorAxis     float64    // arcminutes; 0 for a star
	MinorAxis     float64    // arcminutes
	PositionAngle float64    // of the major axis, degrees from north through east; NaN unknown
	Brightness    float64    // mean surface brightness, V mag per square arcsecond; NaN unknown
	Distance      string     // in words with its uncertainty: "about 2.5 million light-years"
	LightYears    float64    // the same as a number; 0 unknown
	DistanceError float64    // uncertainty of LightYears in percent; 0 unknown
	Double        *Double    // set for double stars
	Variable      *Variable  // set for variable and carbon stars
	Reach         Reach
	Delight       float64 // how much guests like it, 0 to 1, common practice of outreach
	Showpiece     bool    // easy and rewarding for beginners
	Words         Words
	Source        string // where the numbers come from
	Own           bool   // the club's own: made by ParseCSV or by hand
}

// Double is what a double star needs.
type Double struct {
	Separation    float64 // arcseconds
	PositionAngle float64 // degrees from north through east
	MagA, MagB    float64
	Colours       string // "gold and blue"
	Year          int    // of the measure
	Count         int    // stars seen in a club's telescope: 2, 3 or 4
	Optical       bool   // the two only happen to lie in one line of sight
}

// Variable is how a star changes.
type Variable struct {
	Max, Min float64 // usual V range; equal for a star shown for its colour alone
	Period   float64 // days; 0 irregular
	Colours  string  // "deep red"
}

// Words are what an operator says; written by the project.
type Words struct {
	Line    string   // one opening line for a guest
	Facts   []string // up to three short facts
	LookFor string   // one task at the eyepiece
	Expect  string   // what it truly looks like
	Find    string   // how to find it: start star and hop
}
