package lineup

// Key names one of the nine factors of a fit.
type Key int

// The factors, in the order in which a page lists them.
const (
	Field    Key = iota // does the target sit in the true field
	Power               // magnification between its limits and where the target wants it
	Visible             // can a visitor see it
	Place               // altitude, horizon outline, zenith zone, meridian
	Mount               // drift against the length of a look, and finding it again
	EyePlace            // height of the eyepiece
	State               // warm optics, dew, edge of a fast paraboloid
	Delight             // how much guests like it
	Safety              // the Sun

	factorCount = 9
)

// String returns the factor's name as a page prints it.
func (k Key) String() string {
	return [...]string{"Room in the field", "Magnification", "Easy to see", "Place in the sky", "Staying in the field",
		"Height of the eyepiece", "State of the optics", "Delight", "Safety"}[k]
}

// Factor is one judgement: a value from 0 to 1, the number behind it, the
// number wanted, and a sentence. A Veto is a value of 0 with its reason in the
// sentence.
type Factor struct {
	Key      Key
	Value    float64
	Number   float64 // what it is here, in Unit
	Wanted   string  // what is wanted, in words with a unit
	Unit     string
	Sentence string
	Veto     bool
	Assumed  bool // rests on a default of the kit, not on the club's own value
}

// Fit is how well one view serves a guest: the product of its factors.
type Fit struct {
	Value   float64 // 0 to 1
	Factors [factorCount]Factor
}

// Vetoed returns the veto that matters most, if any: safety before all others,
// then the place in the sky, since what is below the horizon is not "too faint".
func (f Fit) Vetoed() (Factor, bool) {
	for _, k := range []Key{Safety, Place} {
		if x := f.Factors[k]; x.Veto {
			return x, true
		}
	}
	for _, x := range f.Factors {
		if x.Veto {
			return x, true
		}
	}
	return Factor{}, false
}

// Weakest returns the factor with the lowest value; a veto before all others.
func (f Fit) Weakest() Factor {
	if x, ok := f.Vetoed(); ok {
		return x
	}
	w := f.Factors[0]
	for _, x := range f.Factors[1:] {
		if x.Value < w.Value {
			w = x
		}
	}
	return w
}
