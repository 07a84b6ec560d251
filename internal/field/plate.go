package field

import "math"

// Exposure is what acts on a surface at one instant.
type Exposure struct {
	Air  float64 // degrees C
	Loss float64 // heat that a black face at air temperature loses to the whole sky, W/m2
	Wind float64 // at the surface, m/s
}

// Plate is a surface as the heat balance sees it, per square metre of face.
type Plate struct {
	Emissivity   float64 // of the face that sees the sky, in the thermal infrared, over the hemisphere
	Back         float64 // emissivity of a second face that sees things at air temperature; 0 for none
	View         float64 // share of the hemisphere that is sky, without a shield
	Faces        float64 // faces that the wind touches, 1 or 2
	Coupling     float64 // to what is behind, taken at air temperature, W m^-2 K^-1
	HeatCapacity float64 // J m^-2 K^-1
	Shield       float64 // length over width of a shield in front; 0 for none
	Foil         bool    // the shield is bright outside
	Heat         float64 // heater power that reaches the glass, W/m2
}

// Emissivities and films of the balance.
const (
	glassEmissivity = 0.84 // uncoated float glass over the hemisphere, EN 572 data sheets
	wallEmissivity  = 0.9  // black plastic or paint; general practice
	foilEmissivity  = 0.05 // bright aluminium; general practice
	shieldFilm      = 2.0  // still air inside a shield, W m^-2 K^-1

	// wallSky is how much of the sky the outside of an upright shield sees,
	// weighted with the warmer sky near the horizon.
	wallSky = 0.425
)

// Balance is where a surface and the wall of its shield settle, in kelvin
// above the air (below it when negative). Wall is 0 without a shield.
type Balance struct{ Surface, Wall float64 }

// Rest is the balance of the plate under steady weather, with radiation taken
// in full: Newton's method, to far better than 0.01 K.
func (p Plate) Rest(x Exposure) Balance {
	if p.Shield > 0 {
		return p.shieldedRest(x, p.Linear(x))
	}
	return Balance{Surface: p.openRest(x, p.linearOpen(x))}
}

// Linear is the same balance with radiation linearised at air temperature. It
// lies within 0.1 K of [Plate.Rest] for what glass does outdoors, and is the
// check on it.
func (p Plate) Linear(x Exposure) Balance {
	if p.Shield > 0 {
		return p.linearShielded(x)
	}
	return Balance{Surface: p.linearOpen(x)}
}

// film is the whole convection and conduction of the open plate, per kelvin.
func (p Plate) film(x Exposure) float64 {
	return p.Faces*SkyFilm(x.Wind) + p.Coupling
}

func (p Plate) linearOpen(x Exposure) float64 {
	q := p.Heat - p.Emissivity*p.View*x.Loss
	return q / ((p.Emissivity+p.Back)*radiativeFilm(x.Air) + p.film(x))
}

// tolerance is where the iterations stop, K.
const tolerance = 1e-6

func (p Plate) openRest(x Exposure, theta float64) float64 {
	air := x.Air + kelvin
	eps, film := p.Emissivity+p.Back, p.film(x)
	gain := eps*blackBody(air) - p.Emissivity*p.View*x.Loss + p.Heat
	for range 20 {
		T := air + theta
		f := gain - eps*blackBody(T) - film*theta
		step := f / (eps*4*stefanBoltzmann*T*T*T + film)
		theta += step
		if math.Abs(step) < tolerance {
			break
		}
	}
	return theta
}

// shieldTerms are the numbers of the two-node balance that do not depend on
// the temperatures looked for: the plate at the bottom of a tube and its wall.
type shieldTerms struct {
	view, wallView float64 // of the plate to the sky; of a piece of wall to either end
	cone           float64 // loss through the opening, W/m2
	plateFilm      float64
	wallFilm       float64
	outer          float64 // emissivity of the outside
}

func (p Plate) shieldTerms(x Exposure) shieldTerms {
	v := ShieldView(p.Shield)
	outer := wallEmissivity
	if p.Foil {
		outer = foilEmissivity
	}
	return shieldTerms{
		view:      v,
		wallView:  (1 - v) / (4 * p.Shield),
		cone:      ConeFactor(p.Shield) * x.Loss,
		plateFilm: p.shieldFilm(x) + p.Coupling,
		wallFilm:  shieldFilm + SkyFilm(x.Wind),
		outer:     outer,
	}
}

// shieldFilm is the film of the plate behind its shield. A rim shorter than
// half the width does not still the air; down to none it passes evenly into
// the open plate.
func (p Plate) shieldFilm(x Exposure) float64 {
	open := math.Max(0, 1-p.Shield/0.5)
	return shieldFilm + open*(SkyFilm(x.Wind)-shieldFilm)
}

func (p Plate) linearShielded(x Exposure) Balance {
	s, hr, e := p.shieldTerms(x), radiativeFilm(x.Air), p.Emissivity
	a11 := e*hr + s.plateFilm
	a12 := -e * (1 - s.view) * hr
	b1 := p.Heat - e*s.view*s.cone
	a21 := -wallEmissivity * s.wallView * hr
	a22 := 2*wallEmissivity*s.wallView*hr + s.wallFilm + s.outer*hr
	b2 := -wallEmissivity*s.wallView*s.cone - wallSky*s.outer*x.Loss
	det := a11*a22 - a12*a21
	return Balance{Surface: (b1*a22 - a12*b2) / det, Wall: (a11*b2 - a21*b1) / det}
}

func (p Plate) shieldedRest(x Exposure, b Balance) Balance {
	s, e := p.shieldTerms(x), p.Emissivity
	air := x.Air + kelvin
	black := blackBody(air)
	opening := black - s.cone
	for range 20 {
		tp, tw := air+b.Surface, air+b.Wall
		jp, jw := blackBody(tp), blackBody(tw)
		dp, dw := 4*jp/tp, 4*jw/tw

		f1 := e*(s.view*opening+(1-s.view)*jw-jp) - s.plateFilm*b.Surface + p.Heat
		f2 := wallEmissivity*s.wallView*(opening+jp-2*jw) + s.outer*(black-wallSky*x.Loss-jw) - s.wallFilm*b.Wall

		a11, a12 := e*dp+s.plateFilm, -e*(1-s.view)*dw
		a21, a22 := -wallEmissivity*s.wallView*dp, 2*wallEmissivity*s.wallView*dw+s.outer*dw+s.wallFilm
		det := a11*a22 - a12*a21
		d1, d2 := (f1*a22-a12*f2)/det, (a11*f2-a21*f1)/det
		b.Surface += d1
		b.Wall += d2
		if math.Abs(d1) < tolerance && math.Abs(d2) < tolerance {
			break
		}
	}
	return b
}

// Stiffness is how much heat per kelvin ties the plate to its surroundings, in
// W m^-2 K^-1: what a heater works against, and with the heat capacity the
// time constant.
func (p Plate) Stiffness(x Exposure) float64 {
	r := (p.Emissivity + p.Back) * radiativeFilm(x.Air)
	if p.Shield > 0 {
		return r + p.shieldFilm(x) + p.Coupling
	}
	return r + p.film(x)
}

// TimeConstant is how fast the plate follows near the air's temperature, in
// seconds.
func (p Plate) TimeConstant(x Exposure) float64 { return p.HeatCapacity / p.Stiffness(x) }

// pace is the time constant in seconds on the way from temp to goal, degrees
// C: warm glass radiates more than the slope at air temperature says.
func (p Plate) pace(x Exposure, temp, goal float64) float64 {
	a, b := temp+kelvin, goal+kelvin
	r := (p.Emissivity + p.Back) * (stefanBoltzmann*(a+b)*(a*a+b*b) - radiativeFilm(x.Air))
	return p.HeatCapacity / (p.Stiffness(x) + r)
}

// OnsetSteady is how many seconds a surface that starts at start degrees C and
// settles at rest with a time constant of tau seconds takes to reach the dew
// point, and false when it never does.
func OnsetSteady(start, rest, dewPoint, tau float64) (float64, bool) {
	switch {
	case start <= dewPoint:
		return 0, true
	case rest >= dewPoint:
		return 0, false
	}
	return tau * math.Log((start-rest)/(dewPoint-rest)), true
}
