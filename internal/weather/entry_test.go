package weather_test

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"duskboard/internal/weather"
)

// A night file must come back as it went out, unknowns included.
func TestEntriesRoundTrip(t *testing.T) {
	text := "time,temp,humidity,cloud,low cloud,mid cloud,high cloud,wind,rain chance,thunder\n" +
		"2027-10-09T18:00:00Z,10,80,40,10,20,30,3,5,no\n2027-10-09T19:00:00Z,9,85,,,,,,,yes\n2027-10-09T20:00:00Z,8,88,0,0,0,0,1,,\n"
	s, err := weather.ParseCSV(strings.NewReader(text), weather.CSVOptions{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(s.Entries())
	if err != nil {
		t.Fatal(err)
	}
	var es []weather.Entry
	if err := json.Unmarshal(b, &es); err != nil {
		t.Fatal(err)
	}
	got, err := weather.FromEntries(es)
	if err != nil {
		t.Fatal(err)
	}
	for i := range got {
		near(t, "humidity", got[i].RH, s.Hours[i].RH, 1e-9)
		got[i].RH = s.Hours[i].RH // through the dew point, equal but for rounding
	}
	if !reflect.DeepEqual(got, s.Hours) {
		t.Errorf("got  %+v\nwant %+v", got, s.Hours)
	}
}

func TestFromEntriesRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		text   string
		column string
	}{
		"humidity of 130":         {`[{"time":"2027-10-09T18:00:00Z","temp":10,"humidity":130}]`, weather.ColRH},
		"dew point above the air": {`[{"time":"2027-10-09T18:00:00Z","temp":10,"dew_point":11}]`, weather.ColDewPoint},
		"no temperature":          {`[{"time":"2027-10-09T18:00:00Z","humidity":50}]`, weather.ColTemp},
		"no time":                 {`[{"temp":10,"humidity":50}]`, weather.ColTime},
		"twice":                   {`[{"time":"2027-10-09T18:00:00Z","temp":10,"humidity":50},{"time":"2027-10-09T20:00:00+02:00","temp":10,"humidity":50}]`, weather.ColTime},
	} {
		var es []weather.Entry
		if err := json.Unmarshal([]byte(c.text), &es); err != nil {
			t.Fatal(err)
		}
		hours, err := weather.FromEntries(es)
		var faults weather.Faults
		if !errors.As(err, &faults) || len(faults) != 1 || faults[0].Column != c.column || hours != nil {
			t.Errorf("%s: %v and %d hours, want a fault at %s", name, err, len(hours), c.column)
		}
	}
}
