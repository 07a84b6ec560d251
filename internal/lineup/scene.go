package lineup

import (
	"math"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/sky"
	"duskboard/internal/vision"
)

// scene is where a target stands in one block, the same for all instruments.
type scene struct {
	alt, lowest, highest float64 // apparent altitude: middle, lowest and highest of start and end, degrees
	az, dec, ra          float64 // middle, degrees
	hourAngle            float64 // middle, degrees, west positive
	hourFrom, hourTo     float64 // at start and end, the same way
	horizon              float64 // outline at the least favourable of start, middle and end: altitude, degrees
	clearance            float64 // least altitude above the outline, degrees
	sunDistance          float64 // degrees
	sky                  float64 // brightness of the sky there, mag per square arcsecond
	dimming              float64 // taken by the air, magnitudes
	pupil                float64 // of the crowd's eye on it, mm
	up                   bool    // above horizon, outline and least altitude throughout
}

// light is what is the same for all targets in one block.
type light struct {
	sun, moon  sky.Position
	sunHighest float64 // highest altitude of the Sun in the block, degrees
	moonPhase  float64 // phase angle, degrees: 0 full, 180 new
	moonKM     float64
	early      float64 // 1 at the opening of the gate, 0 at the end
}

// scenes computes every target in every block.
func (m *Matrix) makeScenes() {
	in := m.in
	n := len(m.Blocks)
	times := instants(m.Blocks)
	suns, moons := in.Sky.Track(sky.Sun, times), in.Sky.Track(sky.Moon, times)
	m.lights = make([]light, n)
	for b := range m.Blocks {
		mv := in.Sky.Moon(m.Blocks[b].Middle())
		l := light{sun: suns[3*b+1], moon: moons[3*b+1], moonPhase: mv.PhaseAngle, moonKM: mv.Distance}
		l.sunHighest = max(suns[3*b].Alt, suns[3*b+2].Alt)
		l.early = 1 - (float64(b)+0.5)/float64(n)
		m.lights[b] = l
	}
	m.scenes = make([][]scene, len(in.Targets))
	m.faces = make([]face, len(in.Targets))
	m.subjects = make([]vision.Subject, len(in.Targets))
	m.wholes = make([]vision.Subject, len(in.Targets))
	for ti, t := range in.Targets {
		m.scenes[ti] = make([]scene, n)
		pos := in.Sky.Track(catalog.ObjectOf(t), times)
		for b := range m.Blocks {
			m.scenes[ti][b] = m.scene(t, pos[3*b], pos[3*b+1], pos[3*b+2], b)
		}
		m.faces[ti] = m.faceOf(t)
		m.subjects[ti] = m.subjectOf(ti)
		if t.Kind == catalog.KindGalaxy {
			m.wholes[ti] = wholeOf(t)
		}
	}
}

// instants lists start, middle and end of each block.
func instants(blocks []Slot) []time.Time {
	out := make([]time.Time, 0, 3*len(blocks))
	for _, s := range blocks {
		out = append(out, s.From, s.Middle(), s.To)
	}
	return out
}

func (m *Matrix) scene(t catalog.Target, from, mid, to sky.Position, b int) scene {
	in := m.in
	s := scene{
		alt: mid.AltRefracted, az: mid.Az, dec: mid.Dec, ra: mid.RA, hourAngle: mid.HourAngle, hourFrom: from.HourAngle, hourTo: to.HourAngle,
		lowest:  min(from.AltRefracted, to.AltRefracted),
		highest: max(from.AltRefracted, mid.AltRefracted, to.AltRefracted),
	}
	s.clearance = math.Inf(1)
	for _, p := range [...]sky.Position{from, mid, to} {
		h := in.Horizon.AltAt(p.Az)
		if c := p.AltRefracted - h; c < s.clearance {
			s.clearance, s.horizon = c, h
		}
	}
	l := m.lights[b]
	s.sunDistance = sky.Separation(mid.RA, mid.Dec, l.sun.RA, l.sun.Dec)
	s.up = s.lowest >= in.Rules.least(t) && s.clearance >= 0
	if s.alt > 0 {
		m.look(&s, t, mid, l)
	}
	return s
}

// apart is the angle between two targets in a block, degrees.
func (m *Matrix) apart(t1, t2, b int) float64 {
	if t1 < 0 || t2 < 0 {
		return 180
	}
	p, q := m.scenes[t1][b], m.scenes[t2][b]
	return sky.Separation(p.ra, p.dec, q.ra, q.dec)
}
