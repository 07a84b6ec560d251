package sky

import (
	"math"
	"testing"
)

// The authors' own test data (Mallama & Hilton 2018, supplement
// Ap_Mag_Output_V3.txt): distances, phase angle, tilt and the magnitude. These
// take inputs that no planet has as seen from the Earth on a night, so the test
// stands inside the package.
func TestMagnitudeFormulas(t *testing.T) {
	cases := []struct {
		body Body
		path lightPath
		want float64
		tol  float64
	}{
		{Mercury, lightPath{r: 0.310295423552, delta: 1.32182643625754, phase: 1.1677}, -2.477, 6e-4},
		{Mercury, lightPath{r: 0.413629222334, delta: 0.92644808718613, phase: 90.1662}, 0.181, 6e-4},
		{Mercury, lightPath{r: 0.448947624811, delta: 0.56004973217883, phase: 178.7284}, 7.167, 6e-4},
		{Venus, lightPath{r: 0.722722540169, delta: 1.71607489554051, phase: 1.3232}, -3.917, 6e-4},
		{Venus, lightPath{r: 0.721480714554, delta: 0.37762511206278, phase: 124.1348}, -4.916, 6e-4},
		{Venus, lightPath{r: 0.726166592736, delta: 0.28889582420642, phase: 179.1845}, -3.090, 6e-4},
		// Their Mars includes rotation and season, which ours leaves out.
		{Mars, lightPath{r: 1.381191244505, delta: 0.37274381097911, phase: 4.8948}, -2.862, 0.1},
		{Mars, lightPath{r: 1.664150453905, delta: 2.58995164518460, phase: 11.5877}, 1.788, 0.1},
		{Jupiter, lightPath{r: 5.446231815414, delta: 6.44985867459088, phase: 0.2446}, -1.667, 6e-4},
		{Jupiter, lightPath{r: 4.957681473205, delta: 3.95393078136013, phase: 0.3431}, -2.934, 6e-4},
		{Saturn, lightPath{r: 9.014989659493, delta: 8.03160470546889, phase: 0.1055,
			subSun: -26.224864126755417, subEarth: -26.332275658328648, ringsVisible: true}, -0.552, 6e-4},
		{Uranus, lightPath{r: 18.321003215845, delta: 17.3229728525108, phase: 0.0410,
			subSun: planetocentric(-20.29), subEarth: planetocentric(-20.28)}, 5.381, 6e-4},
		{Neptune, lightPath{r: 30.322109867761, delta: 31.3091610098214, phase: 0.0549, year: 1970.8963}, 7.997, 6e-4},
		{Neptune, lightPath{r: 30.028181709541, delta: 29.0158521665744, phase: 0.0381, year: 2009.6299}, 7.701, 6e-4},
	}
	for _, c := range cases {
		if got := c.path.magnitude(c.body); !(math.Abs(got-c.want) <= c.tol) {
			t.Errorf("%v at phase %v: %.4f, want %.3f", c.body, c.path.phase, got, c.want)
		}
	}
}

// planetocentric is the inverse of planetographic: the supplement gives the
// latter.
func planetocentric(latitude float64) float64 {
	return math.Atan(math.Tan(latitude*radian)*(1-0.0229)*(1-0.0229)) * degree
}

// The rings make Saturn up to a magnitude brighter, except when Earth and Sun
// stand on opposite sides of them.
func TestRingsCountInSaturnsBrightness(t *testing.T) {
	open := lightPath{r: 9, delta: 8, phase: 1, subSun: 26, subEarth: 26, ringsVisible: true}
	closed, dark, globe := open, open, open
	closed.subSun, closed.subEarth = 0, 0
	dark.subSun = -2
	globe.ringsVisible = false
	if d := closed.magnitude(Saturn) - open.magnitude(Saturn); !(d > 0.8 && d < 1.1) {
		t.Errorf("wide open rings add %.2f magnitudes", d)
	}
	if dark.magnitude(Saturn) != closed.magnitude(Saturn) {
		t.Error("the dark side of the rings adds light")
	}
	if !(globe.magnitude(Saturn) > open.magnitude(Saturn)) {
		t.Error("the globe alone is not fainter")
	}
}
