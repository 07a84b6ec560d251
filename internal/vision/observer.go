package vision

// Observer is the eye that looks.
type Observer struct {
	Age         float64 // years; sets the pupil
	FieldFactor float64 // threshold over that of laboratory observers; 1 is theirs
	Pupil       float64 // mm; 0 derives it from age and sky
}

// Field factors. Real observers under the sky need 1.4 to 2.4 times the
// contrast of laboratory observers; 2 is the reference of Crumey (2014). The
// choice for guests is ours: nobody taught them averted vision.
const (
	FactorPractised = 1.4 // club members among themselves
	FactorPublic    = 2.0
	FactorUntrained = 2.4 // first look ever, little patience
)

// ObserverFor returns the observer to plan with for an audience of a night:
// "families", "school", "adults" or "beginners"; others are like adults. The
// ages are those whose pupils the planning practice uses: 6.5 mm for a school
// class, 5.5 to 6 for adults. Change the fields freely.
func ObserverFor(audience string) Observer {
	switch audience {
	case "school":
		return Observer{Age: 20, FieldFactor: FactorUntrained}
	case "families":
		return Observer{Age: 40, FieldFactor: FactorUntrained}
	case "beginners":
		return Observer{Age: 45, FieldFactor: FactorPublic}
	}
	return Observer{Age: 50, FieldFactor: FactorPublic}
}

// pupil is the observer's pupil in mm under a sky of luminance cd/m^2.
func (o Observer) pupil(luminance float64) float64 {
	if o.Pupil > 0 {
		return o.Pupil
	}
	return NightPupil(o.Age, luminance)
}

// factor is the field factor, the public's when none is set.
func (o Observer) factor() float64 {
	if o.FieldFactor > 0 {
		return o.FieldFactor
	}
	return FactorPublic
}
