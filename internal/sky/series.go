package sky

import (
	"bytes"
	"compress/gzip"
	_ "embed" // the two series
	"encoding/binary"
	"io"
	"math"
	"sync"
)

// The series are written by data/make-series.mjs, which says where they come
// from and how they are packed.
var (
	//go:embed data/vsop87b.bin.gz
	vsopFile []byte
	//go:embed data/elpmpp02.bin.gz
	elpFile []byte
)

// vsopCut drops terms of VSOP87B that stay under this many radians (for the
// radius: this part of the mean radius) while |tau| <= 0.1, the years 1900 to
// 2100. The complete series is 38,000 terms long; what remains is a quarter of
// it and differs by less than 0.1 arcseconds as seen from the Earth
// (TestTruncatedSeries).
const vsopCut = 1e-8

// elpCut does the same for the Moon, in arcseconds and kilometres.
const elpCut = 0.01

// term is a cos(b + c tau) of VSOP87.
type term struct{ a, b, c float64 }

// coordinate is one spherical coordinate of a planet: its series by power of tau.
type coordinate [6][]term

// theory is a planet's longitude, latitude and radius.
type theory [3]coordinate

// allSeries returns VSOP87B as the program uses it, in the order of the file.
var allSeries = sync.OnceValue(func() *[8]theory { p := readVSOP(vsopCut); return &p })

func gunzip(packed []byte) []byte {
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		panic("sky: embedded series: " + err.Error())
	}
	plain, err := io.ReadAll(r)
	if err != nil {
		panic("sky: embedded series: " + err.Error())
	}
	return plain
}

func readVSOP(cut float64) (planets [8]theory) {
	data := gunzip(vsopFile)
	next := func() float64 {
		v, n := binary.Uvarint(data)
		if n <= 0 {
			panic("sky: embedded series: short file")
		}
		data = data[n:]
		return float64(v)
	}
	for p := range planets {
		for v := range planets[p] {
			scale := 1.0
			for power := range planets[p][v] {
				weight := math.Pow(0.1, float64(power))
				terms := make([]term, 0, 64)
				for n := int(next()); n > 0; n-- {
					t := term{next() / 1e11, next() / 1e11, next() / 1e10}
					if v == 2 && power == 0 && t.c == 0 {
						scale = t.a // the mean radius
					}
					if t.a*weight >= cut*scale {
						terms = append(terms, t)
					}
				}
				planets[p][v][power] = append([]term(nil), terms...)
			}
		}
	}
	return planets
}

// at returns the coordinate and its change per unit of tau (a thousand years).
func (c *coordinate) at(tau float64) (value, rate float64) {
	power, below := 1.0, 0.0 // tau^k and k tau^(k-1)
	for k := range c {
		var sum, slope float64
		// From the small terms to the large ones, to keep the last digits.
		terms := c[k]
		for i := len(terms) - 1; i >= 0; i-- {
			t := &terms[i]
			s, cos := math.Sincos(t.b + t.c*tau)
			sum += t.a * cos
			slope -= t.a * t.c * s
		}
		value += sum * power
		rate += slope*power + sum*below
		below = float64(k+1) * power
		power *= tau
	}
	return value, rate
}

// elpTerm is a sin(phase(T)) of ELP/MPP02, the phase a polynomial in T.
type elpTerm struct {
	a     float64
	phase [5]float64
}

type elpTheory struct {
	w1     [5]float64 // mean longitude, radians
	series [3][4][]elpTerm
}

var elp = sync.OnceValue(func() *elpTheory { return readELP(elpCut) })

func readELP(cut float64) *elpTheory {
	data := gunzip(elpFile)
	next := func() float64 {
		v := math.Float64frombits(binary.LittleEndian.Uint64(data))
		data = data[8:]
		return v
	}
	e := &elpTheory{}
	for i := range e.w1 {
		e.w1[i] = next()
	}
	for v := range e.series {
		for power := range e.series[v] {
			for n := int(next()); n > 0; n-- {
				t := elpTerm{a: next()}
				for i := range t.phase {
					t.phase[i] = next()
				}
				if math.Abs(t.a) >= cut {
					e.series[v][power] = append(e.series[v][power], t)
				}
			}
		}
	}
	return e
}

// sum returns one coordinate at T centuries from J2000.0.
func (e *elpTheory) sum(variable int, t float64) float64 {
	var value float64
	for k := len(e.series[variable]) - 1; k >= 0; k-- {
		var part float64
		terms := e.series[variable][k]
		for i := len(terms) - 1; i >= 0; i-- {
			p := &terms[i].phase
			part += terms[i].a * math.Sin(p[0]+t*(p[1]+t*(p[2]+t*(p[3]+t*p[4]))))
		}
		value = value*t + part
	}
	return value
}
