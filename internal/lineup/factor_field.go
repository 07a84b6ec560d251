package lineup

import (
	"fmt"

	"duskboard/internal/catalog"
)

// extent returns how much of a target, in arcminutes, has to fit into the
// field. A cluster or galaxy loses its shape when it is cut; of a nebula a
// guest sees the brighter half of what the catalogue lists.
func extent(t catalog.Target) float64 {
	switch t.Kind {
	case catalog.KindNebula, catalog.KindRemnant, catalog.KindCloud, catalog.KindDark:
		return t.MajorAxis / 2
	case catalog.KindDouble:
		if t.Double != nil {
			return t.Double.Separation / 60
		}
	}
	return t.MajorAxis
}

// wholeMoon is the field, in arcminutes, that holds the whole Moon with room
// around it (common practice: over 0.6 degrees).
const wholeMoon = 36.0

// fieldFactor judges the room around the target. field is the true field in
// arcminutes; measured tells that it comes from a field stop and not from the
// apparent field.
func fieldFactor(t catalog.Target, field float64, say bool) Factor {
	f := Factor{Key: Field, Number: field, Unit: "′", Value: 1}
	size := extent(t)
	switch {
	case t.Kind == catalog.KindMoon:
		f.Value = ramp(field, 12, wholeMoon, 0.55, 1) * plateau(field, wholeMoon, 120, 1.6)
		if say {
			f.Wanted = "36′ or more"
			f.Sentence = "The whole Moon fits with room around it."
			if field < wholeMoon {
				f.Sentence = fmt.Sprintf("The field of %.0f′ shows a part of the Moon, which is about 31′ wide.", field)
			}
		}
	case size <= 0 || t.Kind == catalog.KindPlanet || t.Kind == catalog.KindPlanetary:
		if say {
			f.Sentence = fmt.Sprintf("Small enough for any field; here %s.", arcminutes(field))
		}
	default:
		share := size / field
		f.Value = fieldShare(t.Kind, share)
		f.Veto = share > 1
		if say {
			f.Wanted = fmt.Sprintf("%s and margin", arcminutes(size))
			f.Sentence = fieldSentence(t, size, field, share)
		}
	}
	return f
}

// fieldShare is how good it looks when a target takes this share of the field.
// An open cluster wants a third to two thirds; a globular or galaxy may be
// smaller, for it is looked at and not looked into.
func fieldShare(k catalog.Kind, share float64) float64 {
	if share > 1 {
		return 0
	}
	tight := ramp(share, 0.67, 1, 1, 0.35)
	switch k {
	case catalog.KindOpen, catalog.KindAsterism, catalog.KindCloud:
		return tight * ramp(share, 0.03, 0.33, 0.45, 1)
	case catalog.KindGlobular, catalog.KindGalaxy, catalog.KindNebula, catalog.KindRemnant:
		return tight * ramp(share, 0.02, 0.12, 0.6, 1)
	}
	return tight
}

func fieldSentence(t catalog.Target, size, field, share float64) string {
	part := ""
	if size < t.MajorAxis*0.99 && t.Kind != catalog.KindDouble {
		part = fmt.Sprintf(" (the brighter half of its %s)", arcminutes(t.MajorAxis))
	}
	switch {
	case share > 1:
		return fmt.Sprintf("%s is %s wide%s, wider than the field of %s: it does not fit.", t.Name, arcminutes(size), part, arcminutes(field))
	case share > 0.67:
		return fmt.Sprintf("%s wide%s in a field of %s: it fits, with little room around it.", arcminutes(size), part, arcminutes(field))
	case share < 0.1 && (t.Kind == catalog.KindOpen || t.Kind == catalog.KindAsterism):
		return fmt.Sprintf("%s wide in a field of %s: lost in so wide a view.", arcminutes(size), arcminutes(field))
	}
	return fmt.Sprintf("%s wide%s in a field of %s: it fits with room around it.", arcminutes(size), part, arcminutes(field))
}

// arcminutes writes a size as a card prints it: seconds, minutes or degrees.
func arcminutes(m float64) string {
	switch {
	case m >= 90:
		return fmt.Sprintf("%.1f°", m/60)
	case m >= 3:
		return fmt.Sprintf("%.0f′", m)
	case m >= 1:
		return fmt.Sprintf("%.1f′", m)
	}
	return fmt.Sprintf("%.0f″", m*60)
}
