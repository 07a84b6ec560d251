package lineup

import (
	"fmt"
	"math"

	"duskboard/internal/catalog"
	"duskboard/internal/kit"
	"duskboard/internal/sky"
	"duskboard/internal/vision"
)

// observer is the eye that this crowd looks with.
func (c Crowd) observer() vision.Observer {
	return vision.Observer{Age: c.PupilAge, FieldFactor: c.FieldFactor}
}

// skyOf is the brightness of the sky in a block before a target is chosen.
func (m *Matrix) skyOf(l light) vision.Sky {
	return vision.Sky{
		Dark: m.in.Brightness, Elevation: m.in.Sky.Place.Elev, Extinction: vision.Extinction(m.in.Sky.Place.Elev, vision.MeanAerosol),
		SunAltitude: l.sun.Alt, MoonAltitude: l.moon.Alt, MoonPhaseAngle: l.moonPhase, MoonDistance: l.moonKM,
	}
}

// look adds to a scene what the eye needs: the sky behind the target, what the
// air takes from it, and the eye's pupil on it.
func (m *Matrix) look(s *scene, t catalog.Target, p sky.Position, l light) {
	v := m.skyOf(l)
	b := v.At(vision.Toward{
		Altitude: p.AltRefracted, SunSeparation: s.sunDistance,
		MoonSeparation: sky.Separation(p.RA, p.Dec, l.moon.RA, l.moon.Dec),
	})
	s.sky, s.dimming = b.Mu, v.Dimming(p.AltRefracted)
	s.pupil = vision.PlanningPupil(m.in.Crowd.PupilAge, vision.Scene{
		Luminance: b.Luminance, SunAltitude: l.sun.Alt, OnMoon: t.Kind == catalog.KindMoon, PhaseAngle: l.moonPhase,
	})
}

// pupil is the eye's pupil on a target in a block, mm; block -1 stands for the
// middle of the night.
func (m *Matrix) pupil(ti, b int) float64 {
	if b < 0 {
		b = len(m.Blocks) / 2
	}
	if p := m.scenes[ti][b].pupil; p > 0 {
		return p
	}
	return vision.PlanningPupil(m.in.Crowd.PupilAge, vision.Scene{Luminance: vision.Luminance(m.in.Brightness)})
}

// The skies between which sights are prepared, mag per square arcsecond: from
// deep twilight to the darkest sites.
const brightestSky = 12.0

// skyRange is the span of sky brightness that the night's targets stand on.
func (m *Matrix) skyRange() (low, high float64) {
	low, high = m.in.Brightness, m.in.Brightness
	for ti := range m.scenes {
		for _, s := range m.scenes[ti] {
			if s.up && s.sky > 0 {
				low, high = min(low, s.sky), max(high, s.sky)
			}
		}
	}
	return max(low, brightestSky), max(high, brightestSky)
}

// visible judges whether a visitor sees the target: by its margin over the
// eye's threshold, for a pair by whether it is split, for a planet by its
// image size against what the practice asks for.
func (m *Matrix) visible(ii, ti, r, b int, say bool) Factor {
	t, s := m.in.Targets[ti], &m.scenes[ti][b]
	f := Factor{Key: Visible, Unit: "mag", Wanted: "1 mag or more"}
	if s.alt <= 0 {
		return veto(f, say, "It is below the horizon.")
	}
	sight := m.sight(ii, r, s.sky)
	if t.Kind == catalog.KindSun {
		f.Value, f.Sentence = 1, "Bright through the filter."
		return f
	}
	margin := sight.Margin(&m.subjects[ti], s.sky, s.dimming)
	f.Number = margin
	if margin < 0 {
		return m.tooFaint(f, ii, ti, r, b, say)
	}
	f.Value = marginValue(t.Kind, margin)
	if t.Kind == catalog.KindGalaxy {
		f.Value *= m.wholeGalaxy(sight, ti, s)
	}
	if t.Kind == catalog.KindDouble && t.Double != nil {
		sp := m.split(ii, ti, r, b, say)
		f.Value = min(f.Value, gradeValue(sp.Grade))
		f.Veto = f.Value == 0
		f.Number, f.Unit = t.Double.Separation, "″"
		if say {
			f.Wanted, f.Sentence = fmt.Sprintf("%.1f″ or more", 1.5*sp.Limit), sp.Sentence
		}
		return f
	}
	if t.Kind == catalog.KindPlanet || t.Kind == catalog.KindMoon {
		f.Number, f.Wanted, f.Unit = 0, "", ""
		dazzles := false
		if t.Kind == catalog.KindMoon {
			glare := m.glare(ii, ti, r)
			f.Value *= glare
			dazzles = glare < 0.95
		}
		if say {
			f.Sentence = m.planetWords(ii, ti, r)
			if dazzles {
				f.Sentence += " It dazzles at this power: a Moon filter helps, or more power."
			}
		}
		return f
	}
	if say {
		f.Sentence = vision.See(&m.subjects[ti], m.Trains[ii][r], m.in.Crowd.observer(), m.skyOf(m.lights[b]).At(m.toward(ti, b)), s.dimming).Sentence
		if t.Kind == catalog.KindGalaxy && m.wholeGalaxy(sight, ti, s) < 0.8 {
			f.Sentence += " Only its bright middle shows, a small grey patch."
		}
	}
	return f
}

// onlyCore is what a galaxy is worth to a guest when nothing but its bright
// middle shows: a smudge that has to be explained (common practice: no
// galaxies between lamps).
const onlyCore = 0.45

// wholeGalaxy tells how much of a galaxy is there to be seen: 1 when its whole
// area stands clear of the threshold, onlyCore when it is lost in the sky.
func (m *Matrix) wholeGalaxy(sight *vision.Sight, ti int, s *scene) float64 {
	return ramp(sight.Margin(&m.wholes[ti], s.sky, s.dimming), -1, 0.5, onlyCore, 1)
}

// glare is what the Moon loses by dazzling: guests blink and look away. It
// grows with the lit part and with the exit pupil (common practice: a Moon
// filter, or an exit pupil of 2 mm or less, from the first quarter on).
func (m *Matrix) glare(ii, ti, r int) float64 {
	if f := m.Trains[ii][r].Filter; f != nil && f.Kind == kit.NeutralFilter {
		return 1
	}
	lit := ramp(m.faces[ti].illuminated, 0.3, 1, 0, 1)
	return 1 - lit*ramp(m.glances[ii][r].ExitPupil, 2, 7, 0, 0.3)
}

func (m *Matrix) toward(ti, b int) vision.Toward {
	s, l := &m.scenes[ti][b], &m.lights[b]
	return vision.Toward{Altitude: s.alt, SunSeparation: s.sunDistance, MoonSeparation: sky.Separation(s.ra, s.dec, l.moon.RA, l.moon.Dec)}
}

func (m *Matrix) tooFaint(f Factor, ii, ti, r, b int, say bool) Factor {
	if !say {
		return veto(f, false, "")
	}
	s := &m.scenes[ti][b]
	bg := m.skyOf(m.lights[b]).At(m.toward(ti, b))
	seen := vision.See(&m.subjects[ti], m.Trains[ii][r], m.in.Crowd.observer(), bg, s.dimming)
	return veto(f, true, "%s %s", seen.Sentence, bg.Sentence())
}

// marginValue is what a margin is worth: at 1 mag most see it, at 0 only
// patience does, from 2 mag on it is obvious. What glows goes on gaining
// beyond: a galaxy or nebula that is just obvious is a patch, two magnitudes
// more make it a sight, and that is what large mirrors are for.
func marginValue(k catalog.Kind, margin float64) float64 {
	full, most, obvious := vision.MarginObvious, 0.7, 1.0
	switch k {
	case catalog.KindGalaxy, catalog.KindNebula, catalog.KindRemnant, catalog.KindGlobular, catalog.KindPlanetary, catalog.KindComet:
		full, most, obvious = sightMargin, 0.55, 0.8
	}
	switch {
	case margin < 0:
		return 0
	case margin < vision.MarginByMost:
		return ramp(margin, vision.MarginPatience, vision.MarginByMost, 0.25, most)
	case margin < vision.MarginObvious:
		return ramp(margin, vision.MarginByMost, vision.MarginObvious, most, obvious)
	}
	return ramp(margin, vision.MarginObvious, full, obvious, 1)
}

// sightMargin is the margin in magnitudes from which a glowing target is a
// sight that needs no explaining.
const sightMargin = 3.4

func gradeValue(g vision.Grade) float64 {
	switch g {
	case vision.Obvious:
		return 1
	case vision.ByMost:
		return 0.85
	case vision.Patience:
		return 0.4
	}
	return 0
}

// split says whether a train splits a pair. Altitude changes little of it, so
// the loop asks once for each train; a page asks for its very block.
func (m *Matrix) split(ii, ti, r, b int, say bool) vision.Splitting {
	t, s := m.in.Targets[ti], &m.scenes[ti][b]
	key := r*len(m.in.Targets) + ti
	kept := !say && key < len(m.splits[ii])
	if kept && m.splits[ii][key].known {
		return m.splits[ii][key].Splitting
	}
	companion := m.sight(ii, r, s.sky).Star(t.Double.MagB, s.dimming)
	sp := vision.Split(*t.Double, m.glances[ii][r].Optics, m.states[ii][b].seeing(m.seeing()), companion)
	if kept && !m.sealed {
		m.splits[ii][key] = splitting{sp, true}
	}
	return sp
}

type splitting struct {
	vision.Splitting
	known bool
}

// planetWords tells what a train shows of a planet tonight.
func (m *Matrix) planetWords(ii, ti, r int) string {
	t, f, o := m.in.Targets[ti], m.faces[ti], m.glances[ii][r].Optics
	if t.Kind == catalog.KindMoon {
		return fmt.Sprintf("%.0f %% lit: bright and easy.", 100*f.illuminated)
	}
	words := fmt.Sprintf("The disc of %.0f″ looks as wide as %.1f full Moons to the naked eye.", f.diameter, o.Magnification/vision.MoonLikePower(f.diameter))
	p := vision.Planet{Body: t.Body, Diameter: f.diameter, Lit: f.illuminated, RingTilt: f.ringTilt, SpotAfter: math.NaN()}
	for _, d := range vision.Details(p, o, m.in.Seeing) {
		if d.Grade == vision.Obvious || d.Grade == vision.ByMost {
			words += " Shows " + d.Name + "."
		}
	}
	return words
}

// subjectOf is a target as the eye takes it tonight.
func (m *Matrix) subjectOf(ti int) vision.Subject {
	t, f := m.in.Targets[ti], m.faces[ti]
	if t.Moves {
		return vision.SubjectOfBody(f.magnitude, f.diameter, f.illuminated)
	}
	return vision.SubjectOf(t)
}

// wholeOf is a galaxy as an even patch, without its bright middle.
func wholeOf(t catalog.Target) vision.Subject {
	t.Kind = catalog.KindOther
	return vision.SubjectOf(t)
}
