package catalog_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"duskboard/internal/catalog"
)

// Notations of the same places. M 31 is 00h42m44.3s +41°16'09" in the catalogue
// of its discovery survey: 10.68458, 41.26917 degrees.
func TestParseCoordinates(t *testing.T) {
	for _, c := range []struct {
		text    string
		ra, dec float64
	}{
		{"10.68458 41.26917", 10.68458, 41.26917},
		{"10.68458, +41.26917", 10.68458, 41.26917},
		{"10,68458 41,26917", 10.68458, 41.26917},
		{"10,68458; 41,26917", 10.68458, 41.26917},
		{"00 42 44.3 +41 16 09", 10.684583, 41.269167},
		{"00 42 44.3 41 16 09", 10.684583, 41.269167},
		{"00:42:44.3 +41:16:09", 10.684583, 41.269167},
		{"00:42:44.3/+41:16:09", 10.684583, 41.269167},
		{"0h42m44.3s +41°16'09\"", 10.684583, 41.269167},
		{"0h 42m 44.3s, 41° 16′ 09″", 10.684583, 41.269167},
		{"00H42M44.3S +41D16M09S", 10.684583, 41.269167},
		{"  05:35.3  -05:23 ", 83.825, -5.383333},
		{"05 35.3 -05 23", 83.825, -5.383333},
		{"05 35 05 23", 83.75, 5.383333},
		{"5.588h -5.383", 83.82, -5.383},
		{"12 00 00 -00 30 00", 180, -0.5},
		{"180 -0.5", 180, -0.5},
		{"12:00:00 −00:30:00", 180, -0.5},
		{"12h -0°30'", 180, -0.5},
		{"12h00m00s -00°00'36\"", 180, -0.01},
		{"23 59 59.99 -90 00 00", 359.999958, -90},
		{"360 90", 0, 90},
		{"83°38' 22°01'", 83.633333, 22.016667},
	} {
		ra, dec, err := catalog.ParseCoordinates(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if math.Abs(ra-c.ra) > 1e-6 || math.Abs(dec-c.dec) > 1e-6 {
			t.Errorf("%q: %.6f %.6f, want %.6f %.6f", c.text, ra, dec, c.ra, c.dec)
		}
	}
}

func TestParseCoordinatesRefuses(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"", "no place"},
		{"10.68", "no place"},
		{"1 2 3", "no place"},
		{"24 00 00 +10 00 00", "24 hours"},
		{"25h -5", "24 hours"},
		{"361 10", "over 360"},
		{"-10 20", "negative"},
		{"10 91", "beyond 90"},
		{"10 -90.001", "beyond 90"},
		{"12 60 00 +10 00 00", "they end at 60"},
		{"12 00 00 +10 00 60", "they end at 60"},
		{"12.5 30 00 +10 00 00", "only the last number"},
		{"12 00 00 1 +10 00 00", "more than three"},
		{"north +10", "is not a number"},
		{"10 +5h", "letter h"},
		{"10 +5x", "not understood"},
		{"12: +5", "ends with a colon"},
		{"12h,", "declination is empty"},
		{"1e5 +10", "not understood"},
		{"NaN NaN", "is not a number"},
	} {
		ra, dec, err := catalog.ParseCoordinates(c.text)
		if err == nil {
			t.Errorf("%q: taken as %v %v", c.text, ra, dec)
		} else if !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %q does not say %q", c.text, err, c.says)
		}
	}
}

// Written out and read again, a place is the same.
func TestParseCoordinatesReadsBack(t *testing.T) {
	for _, target := range catalog.Default().All() {
		if target.Moves {
			continue
		}
		ra, dec := target.Star.RA, target.Star.Dec
		text := sexagesimal(ra/15, "") + " " + sexagesimal(math.Abs(dec), map[bool]string{true: "-", false: "+"}[dec < 0])
		gotRA, gotDec, err := catalog.ParseCoordinates(text)
		if err != nil || math.Abs(gotRA-ra) > 2e-5 || math.Abs(gotDec-dec) > 2e-6 {
			t.Errorf("%s: %q: %.6f %.6f %v, want %.6f %.6f", target.ID, text, gotRA, gotDec, err, ra, dec)
		}
	}
}

func sexagesimal(v float64, sign string) string {
	units := int(math.Round(v * 3600 * 1000)) // thousandths of a second
	return fmt.Sprintf("%s%02d %02d %06.3f", sign, units/3600000, units/60000%60, float64(units%60000)/1000)
}

func FuzzParseCoordinates(f *testing.F) {
	for _, s := range []string{"10.68 41.27", "00 42 44.3 +41 16 09", "12h -0°30'", "-00 30 00", "1,2 3,4", "::", "−", "1e9 1", "٣ ٤"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		ra, dec, err := catalog.ParseCoordinates(s)
		if err != nil {
			if err.Error() == "" {
				t.Errorf("%q: an error without words", s)
			}
			return
		}
		if !(ra >= 0 && ra < 360 && dec >= -90 && dec <= 90) {
			t.Errorf("%q: %v %v is out of range", s, ra, dec)
		}
		// What was taken must mean the same when written plainly.
		again, decAgain, err := catalog.ParseCoordinates(fmt.Sprintf("%.9f %+.9f", ra, dec))
		if err != nil || math.Abs(math.Mod(again-ra+540, 360)-180) > 1e-8 || math.Abs(decAgain-dec) > 1e-8 {
			t.Errorf("%q: %v %v, read again %v %v %v", s, ra, dec, again, decAgain, err)
		}
	})
}
