package sky

import (
	"errors"
	"fmt"
	"math"
)

// sgp4 is the near-Earth part of SGP4: Hoots & Roehrich 1980, Spacetrack Report
// No. 3, as revised by Vallado, Crawford, Hujsak & Kelso 2006, "Revisiting
// Spacetrack Report #3", AIAA 2006-6753. Names follow their papers. Elements
// of orbits of 225 minutes and more need its other half (the pull of Sun and
// Moon) and are refused: such satellites are seldom bright.
type sgp4 struct {
	ecc, incl, node, peri, mean, motion, drag float64 // radians, radians a minute

	eta, sinIncl, cosIncl              float64
	con41, x1mth2, x7thm1              float64
	meanDot, periDot, nodeDot, nodeCof float64
	c1, c4, c5, d2, d3, d4             float64
	t2, t3, t4, t5                     float64 // of the mean longitude's growth
	omgCof, mCof, lCof, yCof           float64
	delM0, sinM0                       float64
	simple                             bool // perigee under 220 km: fewer drag terms
}

// WGS 72, which the elements are made with; km and minutes.
const (
	wgsRadius = 6378.135
	wgsMu     = 398600.8
	wgsJ2     = 0.001082616
	wgsJ3     = -0.00000253881
	wgsJ4     = -0.00000165597
)

var wgsKe = 60 / math.Sqrt(wgsRadius*wgsRadius*wgsRadius/wgsMu) // earth radii^1.5 a minute

// errDecayed says that the model has brought the satellite down.
var errDecayed = errors.New("the elements bring it down before this time")

func newSGP4(s Satellite) (*sgp4, error) {
	m := &sgp4{
		ecc: s.E, incl: s.Incl * radian, node: s.Node * radian,
		peri: s.Peri * radian, mean: s.Mean * radian, drag: s.Drag,
	}
	m.sinIncl, m.cosIncl = math.Sincos(m.incl)
	cos2 := m.cosIncl * m.cosIncl
	beta2 := 1 - m.ecc*m.ecc
	beta := math.Sqrt(beta2)

	// From Kozai's mean motion to Brouwer's.
	kozai := s.Motion * 2 * math.Pi / 1440
	a1 := math.Pow(wgsKe/kozai, 2.0/3)
	d := 0.75 * wgsJ2 * (3*cos2 - 1) / (beta * beta2)
	del := d / (a1 * a1)
	a0 := a1 * (1 - del*del - del*(1.0/3+134*del*del/81))
	m.motion = kozai / (1 + d/(a0*a0))
	if period := 2 * math.Pi / m.motion; period >= 225 {
		return nil, fmt.Errorf("one turn takes %.0f minutes: only satellites under 225 minutes are computed", period)
	}
	a := math.Pow(wgsKe/m.motion, 2.0/3)
	if a*(1-m.ecc) < 1 {
		return nil, errors.New("the orbit runs into the Earth")
	}
	m.initDrag(a, beta, beta2, cos2)
	return m, nil
}

// initDrag computes the coefficients of drag and of the secular terms; a is in
// Earth radii.
func (m *sgp4) initDrag(a, beta, beta2, cos2 float64) {
	perigee := (a*(1-m.ecc) - 1) * wgsRadius
	m.simple = perigee < 220
	shell := 78.0
	if perigee < 156 {
		shell = math.Max(perigee-78, 20)
	}
	q := math.Pow((120-shell)/wgsRadius, 4)
	shell = shell/wgsRadius + 1

	m.con41 = 3*cos2 - 1
	m.x1mth2 = 1 - cos2
	m.x7thm1 = 7*cos2 - 1
	con42 := 1 - 5*cos2
	tsi := 1 / (a - shell)
	m.eta = a * m.ecc * tsi
	eta2 := m.eta * m.eta
	ee := m.ecc * m.eta
	psi2 := math.Abs(1 - eta2)
	coef := q * math.Pow(tsi, 4)
	coef1 := coef / math.Pow(psi2, 3.5)
	c2 := coef1 * m.motion * (a*(1+1.5*eta2+ee*(4+eta2)) + 0.375*wgsJ2*tsi/psi2*m.con41*(8+3*eta2*(8+eta2)))
	m.c1 = m.drag * c2
	c3 := 0.0
	if m.ecc > 1e-4 {
		c3 = -2 * coef * tsi * wgsJ3 / wgsJ2 * m.motion * m.sinIncl / m.ecc
		m.mCof = -2.0 / 3 * coef * m.drag / ee
	}
	m.c4 = 2 * m.motion * coef1 * a * beta2 * (m.eta*(2+0.5*eta2) + m.ecc*(0.5+2*eta2) -
		wgsJ2*tsi/(a*psi2)*(-3*m.con41*(1-2*ee+eta2*(1.5-0.5*ee))+
			0.75*m.x1mth2*(2*eta2-ee*(1+eta2))*math.Cos(2*m.peri)))
	m.c5 = 2 * coef1 * a * beta2 * (1 + 2.75*(eta2+ee) + ee*eta2)

	cos4 := cos2 * cos2
	p2 := 1 / math.Pow(a*beta2, 2)
	t1 := 1.5 * wgsJ2 * p2 * m.motion
	t2 := 0.5 * t1 * wgsJ2 * p2
	t3 := -0.46875 * wgsJ4 * p2 * p2 * m.motion
	m.meanDot = m.motion + 0.5*t1*beta*m.con41 + 0.0625*t2*beta*(13-78*cos2+137*cos4)
	m.periDot = -0.5*t1*con42 + 0.0625*t2*(7-114*cos2+395*cos4) + t3*(3-36*cos2+49*cos4)
	nodeDot1 := -t1 * m.cosIncl
	m.nodeDot = nodeDot1 + (0.5*t2*(4-19*cos2)+2*t3*(3-7*cos2))*m.cosIncl
	m.nodeCof = 3.5 * beta2 * nodeDot1 * m.c1
	m.omgCof = m.drag * c3 * math.Cos(m.peri)
	m.t2 = 1.5 * m.c1
	m.lCof = -0.25 * wgsJ3 / wgsJ2 * m.sinIncl * (3 + 5*m.cosIncl) / math.Max(1+m.cosIncl, 1.5e-12)
	m.yCof = -0.5 * wgsJ3 / wgsJ2 * m.sinIncl
	m.delM0 = math.Pow(1+m.eta*math.Cos(m.mean), 3)
	m.sinM0 = math.Sin(m.mean)
	if m.simple {
		return
	}
	c12 := m.c1 * m.c1
	m.d2 = 4 * a * tsi * c12
	t := m.d2 * tsi * m.c1 / 3
	m.d3 = (17*a + shell) * t
	m.d4 = 0.5 * t * a * tsi * (221*a + 31*shell) * m.c1
	m.t3 = m.d2 + 2*c12
	m.t4 = 0.25 * (3*m.d3 + m.c1*(12*m.d2+10*c12))
	m.t5 = 0.2 * (3*m.d4 + 12*m.c1*m.d3 + 6*m.d2*m.d2 + 15*c12*(2*m.d2+c12))
}

// at returns the place in km, true equator and mean equinox of date, minutes
// after the epoch.
func (m *sgp4) at(t float64) (vec3, error) {
	mean := m.mean + m.meanDot*t
	peri := m.peri + m.periDot*t
	node := m.node + m.nodeDot*t + m.nodeCof*t*t
	shrink := 1 - m.c1*t
	loss := m.drag * m.c4 * t
	growth := m.t2 * t * t
	if !m.simple {
		shift := m.omgCof*t + m.mCof*(math.Pow(1+m.eta*math.Cos(mean), 3)-m.delM0)
		mean += shift
		peri -= shift
		shrink -= t * t * (m.d2 + t*(m.d3+t*m.d4))
		loss += m.drag * m.c5 * (math.Sin(mean) - m.sinM0)
		growth += t * t * t * (m.t3 + t*(m.t4+t*m.t5))
	}
	a := math.Pow(wgsKe/m.motion, 2.0/3) * shrink * shrink
	ecc := m.ecc - loss
	if ecc >= 1 || ecc < -0.001 || !(shrink > 0) {
		return vec3{}, errDecayed
	}
	ecc = math.Max(ecc, 1e-6)
	mean += m.motion * growth
	return m.longPeriod(a, ecc, peri, node, mean)
}

// longPeriod adds the long and the short periodic terms.
func (m *sgp4) longPeriod(a, ecc, peri, node, mean float64) (vec3, error) {
	sinPeri, cosPeri := math.Sincos(peri)
	axn := ecc * cosPeri
	k := 1 / (a * (1 - ecc*ecc))
	ayn := ecc*sinPeri + k*m.yCof
	u := positive(mean + peri + k*m.lCof*axn)

	x := u
	for range 10 {
		s, c := math.Sincos(x)
		step := (u - ayn*c + axn*s - x) / (1 - c*axn - s*ayn)
		x += math.Max(-0.95, math.Min(0.95, step))
		if math.Abs(step) < 1e-12 {
			break
		}
	}
	s, c := math.Sincos(x)
	eCos, eSin := axn*c+ayn*s, axn*s-ayn*c
	e2 := axn*axn + ayn*ayn
	p := a * (1 - e2)
	if p < 0 {
		return vec3{}, errDecayed
	}
	r := a * (1 - eCos)
	beta := math.Sqrt(1 - e2)
	k = eSin / (1 + beta)
	sinU := a / r * (s - ayn - axn*k)
	cosU := a / r * (c - axn + ayn*k)
	sin2, cos2 := 2*cosU*sinU, 1-2*sinU*sinU

	j1 := 0.5 * wgsJ2 / p
	j2 := j1 / p
	r = r*(1-1.5*j2*beta*m.con41) + 0.5*j1*m.x1mth2*cos2
	if r < 1 {
		return vec3{}, errDecayed
	}
	su := math.Atan2(sinU, cosU) - 0.25*j2*m.x7thm1*sin2
	nodeNow := node + 1.5*j2*m.cosIncl*sin2
	inclNow := m.incl + 1.5*j2*m.cosIncl*m.sinIncl*cos2
	return onOrbit(su, nodeNow, inclNow).scale(r * wgsRadius), nil
}
