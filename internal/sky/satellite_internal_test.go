package sky

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

// The model's places against another implementation of the 2006 revision
// (satellite.js), which the passes are too coarse to show to the metre.
func TestSGP4AgreesWithReference(t *testing.T) {
	data, err := os.ReadFile("../../testdata/reference/satellites/sgp4.json")
	if err != nil {
		t.Fatal(err)
	}
	var ref struct {
		Satellites []struct {
			Name, Line1, Line2 string
			Places             [][4]float64 // minutes, km
		}
	}
	if err := json.Unmarshal(data, &ref); err != nil {
		t.Fatal(err)
	}
	if len(ref.Satellites) < 6 {
		t.Fatalf("%d satellites", len(ref.Satellites))
	}
	for _, s := range ref.Satellites {
		parsed, err := ParseTLE(s.Line1 + "\n" + s.Line2)
		if err != nil {
			t.Errorf("%s: %v", s.Name, err)
			continue
		}
		m, err := newSGP4(parsed[0])
		if err != nil {
			t.Errorf("%s: %v", s.Name, err)
			continue
		}
		worst := 0.0
		for _, p := range s.Places {
			got, err := m.at(p[0])
			if err != nil {
				t.Errorf("%s at %v: %v", s.Name, p[0], err)
				continue
			}
			worst = math.Max(worst, got.sub(vec3{p[1], p[2], p[3]}).norm())
		}
		if !(worst < 1e-5) { // 1 cm
			t.Errorf("%s: %.6f km off", s.Name, worst)
		}
	}
}

// Spacetrack Report No. 3 (1980), chapter 13, the SGP4 test case: km at 0, 360,
// ... minutes. Its constants are rounded, good to some metres.
func TestSGP4SpacetrackReport(t *testing.T) {
	m, err := newSGP4(Satellite{E: 0.0086731, Incl: 72.8435, Node: 115.9689, Peri: 52.6988, Mean: 110.5714, Motion: 16.05824518, Drag: 0.66816e-4})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []vec3{
		{2328.97048951, -5995.22076416, 1719.97067261},
		{2456.10705566, -6071.93853760, 1222.89727783},
		{2567.56195068, -6112.50384522, 713.96397400},
		{2663.09078980, -6115.48229980, 196.39640427},
		{2742.55133057, -6079.67144775, -326.38095856},
	} {
		got, err := m.at(float64(i) * 360)
		if err != nil {
			t.Fatal(err)
		}
		if off := got.sub(want).norm(); off > 0.03 {
			t.Errorf("at %d: %.4f km off", i*360, off)
		}
	}
}

func TestSGP4RefusesWhatItCannotDo(t *testing.T) {
	for name, s := range map[string]Satellite{
		"twelve hours":      {E: 0.7, Incl: 63, Motion: 2.006},
		"geostationary":     {E: 0.0001, Motion: 1.0027},
		"through the Earth": {E: 0.5, Incl: 60, Motion: 15},
	} {
		if _, err := newSGP4(s); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
	// So much drag that the orbit is gone within days.
	m, err := newSGP4(Satellite{E: 0.001, Incl: 51.6, Motion: 16.3, Drag: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := m.at(30 * 1440); err != errDecayed {
		t.Errorf("after a month: %v", err)
	}
}
