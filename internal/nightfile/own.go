package nightfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"duskboard/internal/catalog"
	"duskboard/internal/night"
	"duskboard/internal/sky"
)

// OwnTarget is a target that the club added itself: a fixed place, or a comet
// or minor planet by its published line of elements. A number that is left out
// is not known.
type OwnTarget struct {
	ID            string    `json:"id" jsonschema:"pattern=^own-[0-9]+$"` // as the lists of targets name it
	Name          string    `json:"name" jsonschema:"minLength=1,maxLength=200"`
	Designations  []string  `json:"designations,omitempty"`
	Kind          string    `json:"kind"`
	Constellation string    `json:"constellation,omitempty"`
	Elements      string    `json:"elements,omitempty" jsonschema:"maxLength=400"`                 // one line, with its spaces
	RA            float64   `json:"ra,omitempty" jsonschema:"minimum=0,exclusiveMaximum=360"`      // J2000, degrees
	Dec           float64   `json:"dec,omitempty" jsonschema:"minimum=-90,maximum=90"`             // J2000, degrees
	PMRA          float64   `json:"pmRA,omitempty"`                                                // mas a year, times cos dec
	PMDec         float64   `json:"pmDec,omitempty"`                                               // mas a year
	Magnitude     *float64  `json:"magnitude,omitempty" jsonschema:"minimum=-30,maximum=30"`       // V
	BV            *float64  `json:"bv,omitempty" jsonschema:"minimum=-10,maximum=10"`              // colour index
	MajorAxis     float64   `json:"majorAxis,omitempty" jsonschema:"minimum=0,maximum=21600"`      // arcminutes
	MinorAxis     float64   `json:"minorAxis,omitempty" jsonschema:"minimum=0,maximum=21600"`      // arcminutes
	PositionAngle *float64  `json:"positionAngle,omitempty" jsonschema:"minimum=-360,maximum=360"` // degrees from north through east
	Brightness    *float64  `json:"brightness,omitempty" jsonschema:"minimum=-10,maximum=40"`      // mag per square arcsecond
	Distance      string    `json:"distance,omitempty"`                                            // in words
	LightYears    float64   `json:"lightYears,omitempty" jsonschema:"minimum=0"`
	DistanceError float64   `json:"distanceError,omitempty" jsonschema:"minimum=0"` // per cent
	Double        *Double   `json:"double,omitempty"`
	Variable      *Variable `json:"variable,omitempty"`
	Reach         string    `json:"reach,omitempty"`
	Delight       float64   `json:"delight,omitempty" jsonschema:"minimum=0,maximum=1"`
	Showpiece     bool      `json:"showpiece,omitempty"`
	Words         *Words    `json:"words,omitempty"`
	Source        string    `json:"source,omitempty"`
}

// Double is what a double star needs.
type Double struct {
	Separation    float64 `json:"separation"`    // arcseconds
	PositionAngle float64 `json:"positionAngle"` // degrees
	MagA          float64 `json:"magA"`
	MagB          float64 `json:"magB"`
	Colours       string  `json:"colours,omitempty"`
	Year          int     `json:"year,omitempty"` // of the measure
	Count         int     `json:"count,omitempty"`
	Optical       bool    `json:"optical,omitempty"`
}

// Variable is how a star changes.
type Variable struct {
	Max     float64 `json:"max"` // V
	Min     float64 `json:"min"`
	Period  float64 `json:"period,omitempty"` // days
	Colours string  `json:"colours,omitempty"`
}

// Words are what an operator says of a target.
type Words struct {
	Line    string   `json:"line,omitempty"`
	Facts   []string `json:"facts,omitempty"`
	LookFor string   `json:"lookFor,omitempty"`
	Expect  string   `json:"expect,omitempty"`
	Find    string   `json:"find,omitempty"`
}

// Satellite is a satellite by its published two-line elements.
type Satellite struct {
	Name     string `json:"name" jsonschema:"minLength=1,maxLength=200"`
	Elements string `json:"elements" jsonschema:"maxLength=400"` // an optional name line and the two lines
}

// known is a pointer to a number that is known, nil for NaN.
func known(v float64) *float64 {
	if math.IsNaN(v) {
		return nil
	}
	return &v
}

func number(p *float64) float64 {
	if p == nil {
		return math.NaN()
	}
	return *p
}

func ownOf(o night.OwnTarget) OwnTarget {
	t := OwnTarget{
		ID: o.ID, Name: o.Name, Designations: o.Designations, Kind: string(o.Kind), Constellation: o.Constellation, Elements: o.Elements,
		RA: o.Star.RA, Dec: o.Star.Dec, PMRA: o.Star.PMRA, PMDec: o.Star.PMDec, Magnitude: known(o.Magnitude), BV: known(o.BV),
		MajorAxis: o.MajorAxis, MinorAxis: o.MinorAxis, PositionAngle: known(o.PositionAngle), Brightness: known(o.Brightness),
		Distance: o.Distance, LightYears: o.LightYears, DistanceError: o.DistanceError, Reach: string(o.Reach), Delight: o.Delight, Showpiece: o.Showpiece, Source: o.Source,
	}
	if d := o.Double; d != nil {
		t.Double = &Double{d.Separation, d.PositionAngle, d.MagA, d.MagB, d.Colours, d.Year, d.Count, d.Optical}
	}
	if v := o.Variable; v != nil {
		t.Variable = &Variable{v.Max, v.Min, v.Period, v.Colours}
	}
	if w := o.Words; w.Line != "" || len(w.Facts) > 0 || w.LookFor != "" || w.Expect != "" || w.Find != "" {
		t.Words = &Words{w.Line, w.Facts, w.LookFor, w.Expect, w.Find}
	}
	return t
}

func (t OwnTarget) target() night.OwnTarget {
	o := night.OwnTarget{Elements: t.Elements, Target: catalog.Target{
		ID: t.ID, Name: t.Name, Designations: t.Designations, Kind: catalog.Kind(t.Kind), Constellation: t.Constellation,
		Star: sky.Star{RA: t.RA, Dec: t.Dec, PMRA: t.PMRA, PMDec: t.PMDec}, Magnitude: number(t.Magnitude), BV: number(t.BV),
		MajorAxis: t.MajorAxis, MinorAxis: t.MinorAxis, PositionAngle: number(t.PositionAngle), Brightness: number(t.Brightness),
		Distance: t.Distance, LightYears: t.LightYears, DistanceError: t.DistanceError,
		Own: true, Reach: catalog.Reach(t.Reach), Delight: t.Delight, Showpiece: t.Showpiece, Source: t.Source,
	}}
	if d := t.Double; d != nil {
		o.Double = &catalog.Double{Separation: d.Separation, PositionAngle: d.PositionAngle, MagA: d.MagA, MagB: d.MagB, Colours: d.Colours, Year: d.Year, Count: d.Count, Optical: d.Optical}
	}
	if v := t.Variable; v != nil {
		o.Variable = &catalog.Variable{Max: v.Max, Min: v.Min, Period: v.Period, Colours: v.Colours}
	}
	if w := t.Words; w != nil {
		o.Words = catalog.Words{Line: w.Line, Facts: w.Facts, LookFor: w.LookFor, Expect: w.Expect, Find: w.Find}
	}
	return o
}

// ownKinds are the kinds that a target of the club's own may have.
var ownKinds = []catalog.Kind{
	catalog.KindComet, catalog.KindMinorPlanet, catalog.KindOpen, catalog.KindGlobular, catalog.KindNebula, catalog.KindPlanetary, catalog.KindRemnant,
	catalog.KindGalaxy, catalog.KindDouble, catalog.KindCarbon, catalog.KindVariable, catalog.KindStar, catalog.KindAsterism, catalog.KindDark, catalog.KindCloud, catalog.KindOther,
}

// own takes in the club's own targets and the satellites, and says which
// cannot be read.
func (f File) own(p *night.Plan, bad said) {
	seen := map[string]bool{}
	for i, t := range f.OwnTargets {
		path := fmt.Sprintf("/ownTargets/%d", i)
		o := t.target()
		if seen[t.ID] {
			bad(path+"/id", "%s stands there twice", t.ID)
		}
		seen[t.ID] = true
		if !slices.Contains(ownKinds, o.Kind) {
			bad(path+"/kind", "%q is no kind of target", t.Kind)
		}
		switch o.Reach {
		case "", catalog.ReachEye, catalog.ReachBinoculars, catalog.ReachTelescope:
		default:
			bad(path+"/reach", "%q is neither eye, binoculars nor telescope", t.Reach)
		}
		if o.Elements != "" {
			if _, err := night.Moving(o); err != nil {
				bad(path+"/elements", "%v", err)
			}
		}
		p.Own = append(p.Own, o)
	}
	for i, s := range f.Satellites {
		if got, err := sky.ParseTLE(s.Elements); err != nil {
			bad(fmt.Sprintf("/satellites/%d/elements", i), "%v", err)
		} else if len(got) != 1 {
			bad(fmt.Sprintf("/satellites/%d/elements", i), "the elements of one satellite are needed, these are %d", len(got))
		}
		p.Satellites = append(p.Satellites, night.Satellite{Name: s.Name, Elements: strings.TrimRight(s.Elements, "\n")})
	}
}
