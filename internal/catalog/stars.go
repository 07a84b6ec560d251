package catalog

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"sort"
	"strconv"
	"strings"
	"sync"
)

// StarRow is one star of the charts, to magnitude 8.
type StarRow struct {
	RA, Dec     float64 // J2000, degrees
	Mag         float64 // V
	BV          float64 // B-V; NaN unknown
	HIP         int     // number in the Hipparcos catalogue
	Name        string  // proper name: "Deneb"; often empty
	Designation string  // Bayer, Flamsteed or variable-star letters: "α Cyg"; often empty
}

// Stars returns all stars to magnitude 8, brightest first. Shared: do not change.
func Stars() []StarRow { return starData().byMagnitude }

// stardata is the decoded file and an index of declination zones.
type stardata struct {
	byMagnitude []StarRow
	zones       [181][]int32 // indices into byMagnitude, brightest first
}

var starData = sync.OnceValue(func() *stardata {
	packed, err := data.ReadFile("data/stars.bin.gz")
	if err != nil {
		panic(err)
	}
	d, err := newStardata(packed)
	if err != nil {
		panic(fmt.Errorf("embedded stars: %w", err))
	}
	return d
})

func newStardata(packed []byte) (*stardata, error) {
	rows, err := unpackStars(packed)
	if err != nil {
		return nil, err
	}
	d := &stardata{byMagnitude: brightestFirst(rows)}
	for i, s := range d.byMagnitude {
		z := zoneOf(s.Dec)
		d.zones[z] = append(d.zones[z], int32(i))
	}
	return d, nil
}

// brightestFirst sorts by counting, since magnitudes are hundredths: a sort by
// comparing took most of the time of the first Default.
func brightestFirst(rows []StarRow) []StarRow {
	bin := func(s StarRow) int { return int(math.Round(s.Mag*100)) + 200 }
	var start [1200]int
	for _, s := range rows {
		start[bin(s)+1]++
	}
	for i := 1; i < len(start); i++ {
		start[i] += start[i-1]
	}
	sorted := make([]StarRow, len(rows))
	for _, s := range rows {
		sorted[start[bin(s)]] = s
		start[bin(s)]++
	}
	return sorted
}

func zoneOf(dec float64) int {
	return int(math.Max(0, math.Min(180, math.Floor(dec)+90)))
}

// unpackStars reads the columns that derive/derive.mjs writes; the layout is
// described there.
func unpackStars(packed []byte) ([]StarRow, error) {
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	raw, err := io.ReadAll(z)
	if err != nil {
		return nil, err
	}
	const perStar = 2 + 4 + 4 + 2 + 2
	if len(raw) < 4 {
		return nil, io.ErrUnexpectedEOF
	}
	n := int(binary.LittleEndian.Uint32(raw))
	raw = raw[4:]
	if n < 0 || n > len(raw)/perStar {
		return nil, io.ErrUnexpectedEOF
	}

	// column undoes the planes: all low bytes first, then the next, ...
	column := func(width int) func(i int) int32 {
		part := raw[:n*width]
		raw = raw[n*width:]
		return func(i int) int32 {
			var v uint32
			for p := range width {
				v |= uint32(part[p*n+i]) << (8 * p)
			}
			return int32(v<<(32-8*width)) >> (32 - 8*width)
		}
	}
	hipStep, raStep, dec, mag, bv := column(2), column(4), column(4), column(2), column(2)

	rows := make([]StarRow, n)
	hip, ra := 0, int32(0)
	for i := range rows {
		hip += int(uint16(hipStep(i)))
		ra += raStep(i)
		rows[i] = StarRow{
			RA:  float64(ra) / 1e4,
			Dec: float64(dec(i)) / 1e4,
			Mag: float64(mag(i)) / 100,
			BV:  float64(bv(i)) / 1000,
			HIP: hip,
		}
		if m := mag(i); m < -200 || m >= 999 {
			return nil, fmt.Errorf("star HIP %d: magnitude %d hundredths", hip, m)
		}
		if bv(i) == math.MinInt16 {
			rows[i].BV = math.NaN()
		}
	}
	return rows, nameStars(rows, string(raw))
}

// nameStars reads the "hip|name|designation" lines; rows are in order of hip.
func nameStars(rows []StarRow, text string) error {
	for _, line := range strings.Split(text, "\n") {
		f := strings.SplitN(line, "|", 3)
		if len(f) != 3 {
			return fmt.Errorf("star name %q: want three fields", line)
		}
		hip, err := strconv.Atoi(f[0])
		if err != nil {
			return fmt.Errorf("star name %q: %w", line, err)
		}
		i := sort.Search(len(rows), func(i int) bool { return rows[i].HIP >= hip })
		if i == len(rows) || rows[i].HIP != hip {
			return fmt.Errorf("star name %q: no such star", line)
		}
		rows[i].Name, rows[i].Designation = f[1], f[2]
	}
	return nil
}

// StarsNear returns the stars to magnitude faintest within radius degrees of a
// place (J2000, degrees), brightest first. Over the poles too.
func StarsNear(ra, dec, radius, faintest float64) []StarRow {
	d := starData()
	if radius <= 0 {
		return nil
	}

	x, y, z := direction(ra, dec)
	least := math.Cos(math.Min(radius, 180) * math.Pi / 180)
	var found []int32
	for zone := zoneOf(dec - radius); zone <= zoneOf(dec+radius); zone++ {
		for _, i := range d.zones[zone] {
			s := &d.byMagnitude[i]
			if s.Mag > faintest {
				break
			}
			sx, sy, sz := direction(s.RA, s.Dec)
			if x*sx+y*sy+z*sz >= least {
				found = append(found, i)
			}
		}
	}

	sort.Slice(found, func(a, b int) bool { return found[a] < found[b] })
	stars := make([]StarRow, len(found))
	for k, i := range found {
		stars[k] = d.byMagnitude[i]
	}
	return stars
}

func direction(ra, dec float64) (x, y, z float64) {
	sinRA, cosRA := math.Sincos(ra * math.Pi / 180)
	sinDec, cosDec := math.Sincos(dec * math.Pi / 180)
	return cosDec * cosRA, cosDec * sinRA, sinDec
}

// ConstellationLines is the usual figure of one constellation. Serpens has two.
type ConstellationLines struct {
	ID    string         `json:"id"`    // IAU, three letters
	Lines [][][2]float64 `json:"lines"` // polylines of RA, Dec; J2000, degrees
}

// Constellation is one of the 88.
type Constellation struct {
	ID       string `json:"id"`       // IAU, three letters
	Name     string `json:"name"`     // Latin
	Genitive string `json:"genitive"` // Latin: "Cygni"
	English  string `json:"en"`
	German   string `json:"de"`
}

// Lines returns the constellation lines. Shared: do not change.
func Lines() []ConstellationLines { return constellationLines() }

// Constellations returns the 88 constellations by abbreviation. Shared: do not change.
func Constellations() []Constellation { return constellations() }

var (
	constellationLines = sync.OnceValue(func() []ConstellationLines {
		return embedded[[]ConstellationLines]("data/lines.json")
	})
	constellations = sync.OnceValue(func() []Constellation {
		return embedded[[]Constellation]("data/constellations.json")
	})
)

func embedded[T any](name string) T {
	var v T
	text, err := data.ReadFile(name)
	if err == nil {
		err = json.Unmarshal(text, &v)
	}
	if err != nil {
		panic(fmt.Errorf("embedded %s: %w", name, err))
	}
	return v
}
