package weather_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"duskboard/internal/weather"
)

// The same two hours in every dress a file may come in.
func TestParseCSVForms(t *testing.T) {
	z := zone(t, "America/Denver")
	for name, text := range map[string]string{
		"plain":                  "time,temp,humidity,cloud,wind\n2027-02-13 18:00,10,80,25,3\n2027-02-13 19:00,8,90,50,2\n",
		"CRLF and quotes":        "\"time\",\"temp\",\"humidity\",\"cloud\",\"wind\"\r\n\"2027-02-13 18:00\",\"10\",\"80\",\"25\",\"3\"\r\n2027-02-13 19:00,8,90,50,2\r\n",
		"byte order mark":        "\xef\xbb\xbftime,temp,humidity,cloud,wind\n2027-02-13 18:00,10,80,25,3\n2027-02-13 19:00,8,90,50,2",
		"semicolons, commas":     "Time;Temperature (°C);Relative Humidity [%];Cloud cover;Wind speed\n13.02.2027 18:00;10,0;80,0;25;3,0\n13.02.2027 19:00;8,0;90;50;2\n",
		"quoted decimal comma":   "time,temp,humidity,cloud,wind\n2027-02-13 18:00,\"10,0\",80,25,\"3,0\"\n2027-02-13 19:00,8,90,50,2\n",
		"tabs":                   "time\ttemp\trh\tcloud\twind\n2027-02-13T18:00\t10\t80\t25\t3\n2027-02-13T19:00\t8\t90\t50\t2\n",
		"offsets":                "time,temp,rh,cloud,wind\n2027-02-14T01:00:00Z,10,80,25,3\n2027-02-13T19:00:00-07:00,8,90,50,2\n",
		"epoch":                  "timestamp,temp,rh,cloud,wind\n1802566800,10,80,25,3\n1802570400,8,90,50,2\n",
		"clock of the night":     "time,temp,rh,cloud,wind\n18:00,10,80,25,3\n19:00,8,90,50,2\n",
		"units in headers":       "time,temp_f,rh,cloud,wind (km/h)\n18:00,50,80,25,10.8\n19:00,46.4,90,50,7.2\n",
		"knots":                  "time,temp,rh,cloud,wind kt\n18:00,10,80,25,5.8315335\n19:00,8,90,50,3.8876890\n",
		"knots, shorter":         "time,temp,rh,cloud,wind (kn)\n18:00,10,80,25,5.8315335\n19:00,8,90,50,3.8876890\n",
		"row of units":           "time,temp,rh,cloud,wind\niso,°F,%,%,km/h\n18:00,50,80,25,10.8\n19:00,46.4,90,50,7.2\n",
		"columns of units":       "time,temp,temp unit,rh,cloud,wind,wind_unit\n18:00,50,F,80,25,3,m/s\n19:00,8,C,90,50,7.2,km/h\n",
		"units behind numbers":   "time,temp,rh,cloud,wind\n18:00,50 °F,80 %,25%,10.8 km/h\n19:00,8 °C,90,50,2 m/s\n",
		"oktas":                  "time,temp,rh,cloud (oktas),wind\n18:00,10,80,2,3\n19:00,8,90,4,2\n",
		"dew point for humidity": "time,temp,dew point,cloud,wind\n18:00,10,6.706,25,3\n19:00,8,6.463,50,2\n",
		"columns nobody asked":   "station,time,temp,rh,cloud,wind,remark\nX,18:00,10,80,25,3,\"calm, dry\"\nX,19:00,8,90,50,2,\n",
		"blank lines, unsorted":  "time,temp,rh,cloud,wind\n\n19:00,8,90,50,2\n18:00,10,80,25,3\n\n",
		"a gap":                  "time,temp,rh,cloud,wind\n18:00,10,80,25,3\n18:30,,,,\n19:00,8,90,50,2\n",
	} {
		t.Run(name, func(t *testing.T) {
			s, err := weather.ParseCSV(strings.NewReader(text), weather.CSVOptions{Zone: z, Evening: time.Date(2027, 2, 13, 18, 0, 0, 0, z)})
			if err != nil {
				t.Fatal(err)
			}
			if len(s.Hours) != 2 {
				t.Fatalf("%d hours, want 2", len(s.Hours))
			}
			a, b := s.Hours[0], s.Hours[1]
			if want := time.Date(2027, 2, 14, 1, 0, 0, 0, time.UTC); !a.Time.Equal(want) || !b.Time.Equal(want.Add(time.Hour)) {
				t.Errorf("hours at %v and %v, want %v and an hour later", a.Time, b.Time, want)
			}
			near(t, "temp", a.Temp, 10, 1e-6)
			near(t, "humidity", a.RH, 80, 0.01)
			near(t, "dew point", a.DewPoint, 6.706, 0.001)
			near(t, "cloud", a.Cloud, 25, 1e-6)
			near(t, "wind", a.Wind, 3, 1e-6)
			near(t, "temp", b.Temp, 8, 1e-6)
			near(t, "wind", b.Wind, 2, 1e-6)
			if a.Has(weather.Gust) || !a.Has(weather.Cloud|weather.Wind) {
				t.Errorf("missing %b, want gusts but neither cloud nor wind", a.Missing)
			}
		})
	}
}

// Line, column and a reason for every fault, and nothing accepted.
func TestParseCSVFaults(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string // "line column"
	}{
		{"humidity of 130", "time,temp,RH\n18:00,10,80\n19:00,9,130\n", []string{"3 RH"}},
		{"dew point above air", "time,temp,td\n18:00,10,12\n", []string{"2 td"}},
		{"several rows", "time,temp,rh\n18:00,x,80\n19:00,9,80\n25:00,9,80\n", []string{"2 temp", "4 time"}},
		{"two in one row", "time,temp,rh,wind\n18:00,ten,80,-3 mph\n19:00,5,0,-3\n", []string{"2 temp", "3 rh", "3 wind"}},
		{"too few values", "time,temp,rh\n18:00,10\n", []string{"2 "}},
		{"twice the same hour", "time,temp,rh\n18:00,10,80\n18:00,9,80\n", []string{"3 time"}},
		{"no time column", "temp,rh\n10,80\n", []string{"1 "}},
		{"no moisture column", "time,temp\n18:00,10\n", []string{"1 "}},
		{"a column twice", "time,temp,temperature,rh\n18:00,10,10,80\n", []string{"1 temperature"}},
		{"an unknown unit", "time,temp (miles),rh\n18:00,10,80\n", []string{"1 temp (miles)"}},
		{"a unit column with nonsense", "time,temp,temp unit,rh\n18:00,10,miles,80\n", []string{"2 temp"}},
		{"a broken quote", "time,temp,rh\n\"18:00,10,80\n", []string{"2 "}},
		{"thousands", "time,temp,rh\n18:00,\"1,000.5\",80\n", []string{"2 temp"}},
		{"hexadecimal", "time,temp,rh\n18:00,0x10,80\n", []string{"2 temp"}},
		{"header only", "time,temp,rh\n", []string{"0 "}},
		{"empty", "", []string{"0 "}},
		{"temperature missing in a row with humidity", "time,temp,rh\n18:00,,80\n", []string{"2 temp"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := weather.ParseCSV(strings.NewReader(c.text), weather.CSVOptions{Evening: dusk})
			var faults weather.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("got %v, want faults", err)
			}
			var got []string
			for _, f := range faults {
				if f.Reason == "" {
					t.Errorf("fault %v has no reason", f)
				}
				got = append(got, fmt.Sprintf("%d %s", f.Line, f.Column))
			}
			if strings.Join(got, "|") != strings.Join(c.want, "|") {
				t.Errorf("faults at %q, want %q\n%v", got, c.want, err)
			}
			if !s.Empty() {
				t.Error("a refused file left weather behind")
			}
		})
	}
}

// 31 October 2027 in London has 01:00 to 02:00 twice; rows follow each other,
// so the second 01:00 is the later one.
func TestParseCSVNightOfTwoOneOClocks(t *testing.T) {
	z := zone(t, "Europe/London")
	text := "time,temp,rh\n2027-10-31 00:00,8,80\n2027-10-31 01:00,7,80\n2027-10-31 01:00,6,80\n2027-10-31 02:00,5,80\n"
	s, err := weather.ParseCSV(strings.NewReader(text), weather.CSVOptions{Zone: z})
	if err != nil {
		t.Fatal(err)
	}
	first := time.Date(2027, 10, 30, 23, 0, 0, 0, time.UTC)
	for i, h := range s.Hours {
		if want := first.Add(time.Duration(i) * time.Hour); !h.Time.Equal(want) || h.Temp != float64(8-i) {
			t.Errorf("row %d at %v with %g, want %v with %d", i, h.Time, h.Temp, want, 8-i)
		}
	}
	if _, err := weather.ParseCSV(strings.NewReader("time,temp,rh\n2027-03-28 01:30,8,80\n"), weather.CSVOptions{Zone: z}); err == nil {
		t.Error("01:30 on 28 March 2027 does not exist and was taken")
	}
}

// A flag, or a chance that counts from 5 per cent.
func TestParseCSVThunder(t *testing.T) {
	for cell, want := range map[string]bool{"yes": true, "no": false, "1": true, "0": false, "3": false, "3 %": false, "5": true, "40%": true} {
		s, err := weather.ParseCSV(strings.NewReader("time,temp,rh,thunder\n18:00,10,80,"+cell+"\n"), weather.CSVOptions{Evening: dusk})
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Hours[0].Thunder; got != want {
			t.Errorf("%q is thunder: %v", cell, got)
		}
	}
	if _, err := weather.ParseCSV(strings.NewReader("time,temp,rh,thunder\n18:00,10,80,maybe\n"), weather.CSVOptions{Evening: dusk}); err == nil {
		t.Error("maybe was taken")
	}
}

func TestParseCSVBounds(t *testing.T) {
	if _, err := weather.ParseCSV(strings.NewReader(strings.Repeat("x", 1<<20+1)), weather.CSVOptions{}); err == nil {
		t.Error("a file over the limit was taken")
	}
	many := "time,temp,rh\n" + strings.Repeat("18:00,x,80\n", 200)
	_, err := weather.ParseCSV(strings.NewReader(many), weather.CSVOptions{Evening: dusk})
	var faults weather.Faults
	if !errors.As(err, &faults) || len(faults) > 60 {
		t.Errorf("%d faults are shown", len(faults))
	}
}

// Whatever the bytes, a file is refused with faults or gives hours that obey
// the rules every other package relies on.
func FuzzParseCSV(f *testing.F) {
	f.Add("time,temp,rh\n18:00,10,80\n", int64(0))
	f.Add("\xef\xbb\xbftime;temp;td;wind (km/h)\n2027-10-31 01:00;10,5;3;7\n", int64(1))
	f.Add("time,temp,temp unit,rh\n18:00,1e308,F,80\n", int64(2))
	f.Fuzz(func(t *testing.T, text string, z int64) {
		loc := []*time.Location{time.UTC, time.FixedZone("x", 34200), nil}[uint64(z)%3]
		s, err := weather.ParseCSV(strings.NewReader(text), weather.CSVOptions{Zone: loc, Evening: dusk})
		if err != nil {
			var faults weather.Faults
			if !errors.As(err, &faults) || len(faults) == 0 || !s.Empty() {
				t.Fatalf("refused by %v with %d hours", err, len(s.Hours))
			}
			return
		}
		for i, h := range s.Hours {
			ok := h.Temp >= -60 && h.Temp <= 60 && h.DewPoint <= h.Temp+1e-9 && h.RH > 0 && h.RH <= 100.0001 &&
				h.Cloud >= 0 && h.Cloud <= 100 && h.Wind >= 0 && h.Wind <= 75
			if !ok {
				t.Fatalf("hour %+v", h)
			}
			if i > 0 && !h.Time.After(s.Hours[i-1].Time) {
				t.Fatalf("hours do not rise: %v after %v", h.Time, s.Hours[i-1].Time)
			}
		}
	})
}
