package catalog

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// phrase is what templates can speak of. Texts are ready to print in the
// language; a text is empty and a number 0 when nothing is known.
type phrase struct {
	Name          string
	Kind          string // "open cluster"
	Constellation string // "Cygnus"
	Magnitude     float64
	Faint         bool    // a beginner in a club's telescope sees it with effort
	Bright        bool    // shows at the first glance
	Arcmin        float64 // largest diameter, arcminutes
	Size          string  // against everyday things of the sky: "half as wide as the full Moon"
	Long          bool    // three times as long as wide, or more
	Large         bool    // wider than the full Moon
	Small         bool    // under half an arcminute
	LightYears    float64
	Distance      string // "about 2,570 light-years"
	Light         string // "The light left ..., in the days of ..."
	Wide          string // true diameter: "about 12 light-years"
	Reach         string // "eye", "binoculars", "telescope"

	// Double stars.
	Count    int     // 2, 3 or 4
	Arcsec   float64 // separation
	Sep      string  // the same, "34.6"
	Lamps    string  // kilometres from which two headlights look as far apart
	Colours  string
	Ratio    string // how many times brighter the first is; empty when about equal
	Equal    bool
	Apart    string // least true distance in Earth-Sun distances
	Close    bool   // under 3 arcseconds
	Optical  bool
	MagA     string
	MagB     string
	Easy     bool // over 10 arcseconds: any telescope at low power
	Binocs   bool // binoculars will do
	Variable bool // truly changes
	Max, Min string
	Days     string // period
	Years    string // period, when over three years
}

func (l *Language) phraseOf(t Target) phrase {
	p := phrase{
		Name: t.Name, Kind: l.kindWord(t.Kind), Constellation: l.constellation(t.Constellation),
		Magnitude: t.Magnitude, Arcmin: t.MajorAxis, LightYears: t.LightYears,
		Reach: string(t.Reach),
	}
	if math.IsNaN(p.Magnitude) {
		p.Magnitude = 0
	}
	p.Faint = t.Magnitude > 10.3 || t.Brightness > 22.7
	p.Bright = t.Magnitude < 6.5 && !(t.Brightness > 22)
	p.Long = t.MinorAxis > 0 && t.MajorAxis >= 3*t.MinorAxis
	p.Large = t.MajorAxis > 31
	p.Small = t.MajorAxis > 0 && t.MajorAxis < 0.5
	p.Size = l.sizeWords(t.MajorAxis)
	if t.LightYears > 0 {
		p.Distance = l.lightYears(t.LightYears, 2)
		p.Light = l.lightWords(t.LightYears)
		if t.MajorAxis > 0 && t.Kind != KindAsterism {
			p.Wide = l.lightYears(2*t.LightYears*math.Tan(t.MajorAxis/120*math.Pi/180), 1)
		}
	}
	if d := t.Double; d != nil {
		l.pair(&p, t, *d)
	}
	if v := t.Variable; v != nil {
		p.Colours = l.colours(v.Colours)
		p.Variable = v.Min > v.Max
		p.Max, p.Min = l.number(v.Max, 1), l.number(v.Min, 1)
		if v.Period > 0 {
			p.Days = l.rounded(v.Period, 3)
		}
		if v.Period > 3*365 {
			p.Years = l.rounded(v.Period/365.25, 2)
		}
	}
	return p
}

// pair fills what is said of a double star.
func (l *Language) pair(p *phrase, t Target, d Double) {
	p.Count, p.Arcsec, p.Optical = d.Count, d.Separation, d.Optical
	p.Sep = l.rounded(d.Separation, 2)
	// Headlights 1.5 m apart; 206265 arcseconds in a radian.
	p.Lamps = l.rounded(1.5*206265/d.Separation/1000, 2)
	p.Colours = l.colours(d.Colours)
	p.MagA, p.MagB = l.number(d.MagA, 1), l.number(d.MagB, 1)
	difference := math.Abs(d.MagB - d.MagA)
	p.Equal = difference < 0.35
	if difference >= 0.7 {
		p.Ratio = l.rounded(math.Pow(10, 0.4*difference), 1)
	}
	p.Close, p.Easy, p.Binocs = d.Separation < 3, d.Separation >= 10, d.Separation >= 25 && d.MagB < 8
	if t.LightYears > 0 && !d.Optical {
		// Arcseconds times parsecs are Earth-Sun distances; 3.2616 light-years in a parsec.
		p.Apart = l.rounded(d.Separation*t.LightYears/3.2616, 1)
	}
}

// number writes v with the given decimals in the language's signs.
func (l *Language) number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	whole, fraction, hasFraction := strings.Cut(s, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "−", whole[1:]
	}
	if len(whole) > 3 {
		var groups []string
		for len(whole) > 3 {
			groups = append([]string{whole[len(whole)-3:]}, groups...)
			whole = whole[:len(whole)-3]
		}
		whole = whole + l.phrases.Thousands + strings.Join(groups, l.phrases.Thousands)
	}
	if hasFraction {
		return sign + whole + l.phrases.Decimal + fraction
	}
	return sign + whole
}

// rounded writes v with the given number of significant figures.
func (l *Language) rounded(v float64, figures int) string {
	if v == 0 {
		return "0"
	}
	digits := int(math.Floor(math.Log10(math.Abs(v)))) + 1
	scale := math.Pow(10, float64(figures-digits))
	v = math.Round(v*scale) / scale
	return l.number(v, max(0, decimalsOf(v, figures-digits)))
}

// decimalsOf drops zeros at the end: 2.0 is 2.
func decimalsOf(v float64, most int) int {
	for most > 0 {
		s := math.Pow(10, float64(most-1))
		if math.Abs(v*s-math.Round(v*s)) > 1e-9 {
			return most
		}
		most--
	}
	return most
}

// distanceBook has the words of a distance: formats with one %s for the number
// or for the light-years.
type distanceBook struct {
	LightYears string `json:"lightYears"` // "%s light-years"
	LightYear  string `json:"lightYear"`  // "%s light-year", for 1
	Million    string `json:"million"`    // "%s million"
	Exact      string `json:"exact"`      // known within 2 percent
	Good       string `json:"good"`       // within 8
	Fair       string `json:"fair"`       // within 18; a second %s is the percent
	Poor       string `json:"poor"`       // worse; the percent too
	Unknown    string `json:"unknown"`    // said when nothing is known of the error
}

// lightYears writes a distance with significant figures, in millions from one
// million on.
func (l *Language) lightYears(ly float64, figures int) string {
	b := l.phrases.Numbers
	n := l.rounded(ly, figures)
	if ly >= 1e6 {
		n = fmt.Sprintf(b.Million, l.rounded(ly/1e6, figures))
	}
	if n == "1" {
		return fmt.Sprintf(b.LightYear, n)
	}
	return fmt.Sprintf(b.LightYears, n)
}

// distanceWords says a distance and how sure it is. The figures follow the
// error: three where it is known to eight percent, else two.
func (l *Language) distanceWords(ly, percent float64) string {
	b := l.phrases.Numbers
	figures := 2
	if percent > 0 && percent <= 8 {
		figures = 3
	}
	switch said := l.lightYears(ly, figures); {
	case ly == 0:
		return ""
	case percent == 0:
		return fmt.Sprintf(b.Unknown, said)
	case percent <= 2:
		return fmt.Sprintf(b.Exact, said)
	case percent <= 8:
		return fmt.Sprintf(b.Good, said)
	case percent <= 18:
		return fmt.Sprintf(b.Fair, said, l.number(percent, 0))
	default:
		return fmt.Sprintf(b.Poor, said, l.number(percent, 0))
	}
}

// lightWords tells when the light set out.
func (l *Language) lightWords(ly float64) string {
	for _, s := range l.phrases.Light {
		if s.To == 0 || ly <= s.To {
			return strings.ReplaceAll(s.Text, "%s", l.years(ly))
		}
	}
	return ""
}

// years is the light's time as a number.
func (l *Language) years(ly float64) string {
	if ly >= 1e6 {
		return fmt.Sprintf(l.phrases.Numbers.Million, l.rounded(ly/1e6, 2))
	}
	return l.rounded(ly, 2)
}

// sizeWords compares a width with the full Moon (31 arcminutes) or, when small,
// with Jupiter at its best (45 arcseconds).
func (l *Language) sizeWords(arcmin float64) string {
	if !(arcmin > 0) {
		return ""
	}
	for _, s := range l.phrases.Sizes {
		if s.To == 0 || arcmin <= s.To {
			return strings.ReplaceAll(s.Text, "%s", l.rounded(arcmin/31, 1))
		}
	}
	return ""
}
