package lineup

import (
	"math"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/optics"
	"duskboard/internal/sky"
)

// glance is what a train gives whatever it is pointed at, ready for the loop.
type glance struct {
	optics.Optics
	field   float64 // true field, arcminutes
	comfort float64 // spectacles and a tolerant exit pupil, 0.85 to 1
	assumed bool    // field or power rest on a default
	warmMax float64 // kelvin that the glass may be warmer than the air
	seen    bool    // the crowd's eye at it is prepared, see Matrix.sight
}

func glanceOf(tr optics.Train) glance {
	o := tr.Static()
	g := glance{Optics: o, field: o.TrueField * 60, comfort: 1, assumed: len(o.Assumed) > 0, warmMax: warmLimit(tr.Instrument, o.Magnification)}
	// First-timers lose the image in short eye relief (common practice: 15 mm
	// or more for comfort).
	if o.EyeRelief > 0 {
		g.comfort = ramp(o.EyeRelief, 5, optics.GlassesRelief, 0.85, 1)
	}
	if tr.Amplifier != nil && tr.Amplifier.Kind != kit.Corrector {
		g.comfort *= 0.98 // one more piece to handle in the dark
	}
	return g
}

// face is what a moving target looks like tonight.
type face struct {
	diameter    float64 // arcseconds; 0 for what is fixed
	magnitude   float64
	illuminated float64 // 0 to 1
	ringTilt    float64 // of Saturn, degrees
	delight     float64 // 0 to 1
	wish        wish
}

// faceOf is taken at the middle of the public hours: over a night nothing here
// changes by more than a guest could notice.
func (m *Matrix) faceOf(t catalog.Target) face {
	f := face{magnitude: t.Magnitude, delight: t.Delight, illuminated: 1}
	in := m.in
	mid := in.PublicFrom.Add(in.PublicTo.Sub(in.PublicFrom) / 2)
	switch {
	case t.Moves && t.Body == sky.Moon:
		v := in.Sky.Moon(mid)
		f.illuminated, f.diameter = v.Illuminated, 1865
		f.magnitude = -12.7 + 0.026*v.PhaseAngle + 4e-9*math.Pow(v.PhaseAngle, 4)
		// A full Moon has no shadows; the best relief is around the quarters.
		f.delight = t.Delight * ramp(v.Illuminated, 0.85, 1, 1, 0.75) * ramp(v.Illuminated, 0.02, 0.12, 0.5, 1)
	case t.Moves:
		v := in.Sky.Planet(t.Body, mid)
		f.magnitude, f.diameter, f.illuminated, f.ringTilt = v.Magnitude, v.Diameter, v.Illuminated, v.RingTilt
		f.delight = t.Delight * planetDelight(t.Body, v)
	}
	f.wish = wishes(t, f.diameter)
	return f
}

// planetDelight: a small Mars and an edge-on Saturn disappoint (common
// practice: Mars needs 10 arcseconds for detail).
func planetDelight(b sky.Body, v sky.PlanetView) float64 {
	switch b {
	case sky.Mars:
		return ramp(v.Diameter, 5, 14, 0.45, 1)
	case sky.Saturn:
		return ramp(math.Abs(v.RingTilt), 1, 8, 0.75, 1)
	case sky.Venus:
		return ramp(v.Diameter, 10, 30, 0.7, 1)
	}
	return 1
}

func eyepieceHeight(inst kit.Instrument, alt float64) float64 {
	return optics.EyepieceHeight(inst, min(max(alt, 0), 90))
}

// drift is the time in seconds from edge to edge if nobody tracks.
func (m *Matrix) drift(ii, ti, r int, dec float64) float64 {
	return optics.DriftSeconds(m.glances[ii][r].TrueField, dec)
}

func (m *Matrix) place(ii, ti, b int, say bool) Factor {
	s, inst := m.scenes[ti][b], m.in.Kit.Instruments[ii]
	f := placeFactor(m.in.Targets[ti], placeInput{
		alt: s.alt, lowest: s.lowest, highest: s.highest, horizon: s.horizon, hidden: s.clearance < 0,
		least: m.in.Rules.least(m.in.Targets[ti]), inst: inst,
		crosses: inst.Mount == kit.GermanEquatorial && turnsOver(s, inst.MeridianOverrun),
	}, say)
	return f
}

// turnsOver says whether a German equatorial that may track overrun minutes
// past the meridian has to change sides within the block.
func turnsOver(s scene, overrun float64) bool {
	return optics.MinutesToFlip(s.hourFrom, overrun) > 0 && optics.MinutesToFlip(s.hourTo, overrun) <= 0
}

func (m *Matrix) safety(ii, ti, b int, say bool) Factor {
	return safetyFactor(m.in.Targets[ti], m.in.Kit.Instruments[ii], m.lights[b].sunHighest, m.scenes[ti][b].sunDistance, m.in.Rules.SunDistance, say)
}

func (m *Matrix) eye(ii, ti, b int, say bool) Factor {
	return eyeFactor(m.reach(ii, ti, b), m.in.Ladders, say)
}

func (m *Matrix) delight(ii, ti, b int, say bool) Factor {
	return delightFactor(m.in.Targets[ti], m.in.Crowd, m.lights[b].early, m.faces[ti].delight, m.in.Kit.Instruments[ii].Aperture, say)
}

func (m *Matrix) mount(ii, ti, r, b int, say bool) Factor {
	t := m.in.Targets[ti]
	d := m.drift(ii, ti, r, m.scenes[ti][b].dec)
	return mountFactor(m.in.Kit.Instruments[ii], d, lookSeconds(t)*m.in.Crowd.Slow, m.faces[ti].magnitude, say)
}

// powerInput gathers what the magnification is judged by. Block -1 stands for
// any block: a dark sky, or the Moon's disc for the Moon, and cooled glass.
func (m *Matrix) powerInput(ii, ti, r, b int) powerInput {
	return m.powerWith(ii, ti, b, &m.glances[ii][r])
}

// powerWith is powerInput for a train that the kit need not have.
func (m *Matrix) powerWith(ii, ti, b int, g *glance) powerInput {
	in := powerInput{
		power: g.Magnification, exitPupil: g.ExitPupil, topAperture: g.MaxPowerAperture, wish: m.faces[ti].wish,
		eyePupil: m.pupil(ti, b),
	}
	seeing := m.seeing()
	if b >= 0 {
		seeing = m.states[ii][b].seeing(seeing)
	}
	in.topSeeing = min(seenWide/seeing, 1.5*g.Aperture)
	in.shadow = g.Obstruction * max(1, g.ExitPupil/in.eyePupil)
	return in
}

// seenWide is how wide, in arcseconds, the seeing disc may look before a view
// is soft: 4 arcminutes (science sheet of optics, 1.7).
const seenWide = 240.0

// UsualSeeing is taken when nobody said: an ordinary night, FWHM in
// arcseconds.
const UsualSeeing = optics.AverageSeeing

func (m *Matrix) seeing() float64 {
	if m.in.Seeing > 0 {
		return m.in.Seeing
	}
	return UsualSeeing
}

func (m *Matrix) state(ii, ti, r, b int, say bool) Factor {
	t, g, inst := m.in.Targets[ti], &m.glances[ii][r], m.in.Kit.Instruments[ii]
	st := m.states[ii][b]
	gl := glass{
		known: st.known, warm: st.warm, warmMax: g.warmMax, dewed: st.dewed, dewMaybe: st.dewMaybe, surface: st.surface,
		aligned: true, edge: g.ComaEdge, edgeWhole: extent(t) > 0.6*g.field,
	}
	bright := t.Kind == catalog.KindMoon || t.Kind == catalog.KindSun || t.Kind == catalog.KindPlanet && m.faces[ti].magnitude < 1.5
	if inst.GoTo && !bright {
		gl.aligned = m.lights[b].sun.Alt < alignmentSun
	}
	return stateFactor(gl, g.Magnification, say)
}

// alignmentSun is the Sun's altitude, in degrees, from which alignment stars
// can be seen and used: between civil and nautical dusk (common practice).
const alignmentSun = -8.0

// warmLimit is how many kelvin the glass may be warmer than the air at a
// magnification (science sheet of field conditions, 4.8): blur of 120
// arcseconds over the magnification, capped at 6 K; refractors bear half more.
func warmLimit(inst kit.Instrument, power float64) float64 {
	d := min(math.Pow(300/power, 1/1.2), 6)
	if inst.Design == kit.Achromat || inst.Design == kit.Apochromat {
		d *= 1.5
	}
	return d
}
