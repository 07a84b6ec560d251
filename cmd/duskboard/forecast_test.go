package main

import (
	"errors"
	"io"
	"testing"
)

// TestForecastIsASwitch guards that no service is asked in the demo or when it
// is off, and that a wrong word is refused at the start rather than at night.
func TestForecastIsASwitch(t *testing.T) {
	none := func(string) string { return "" }
	for _, c := range []struct {
		name string
		args []string
		want string // of the service; "" for none
		bad  bool
	}{
		{name: "as it comes", want: "Open-Meteo"},
		{name: "off", args: []string{"--forecast", "off"}},
		{name: "demo", args: []string{"--demo"}},
		{name: "demo, asked for", args: []string{"--demo", "--forecast", "open-meteo"}},
		{name: "second service", args: []string{"--forecast", "met-norway", "--forecast-contact", "keeper@example.org"}, want: "MET Norway"},
		{name: "without a contact", args: []string{"--forecast", "met-norway"}, bad: true},
		{name: "a wrong word", args: []string{"--forecast", "crystal-ball"}, bad: true},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := parseSettings(c.args, none, io.Discard)
			if c.bad != (err != nil) || c.bad && !errors.Is(err, errUsage) {
				t.Fatalf("error %v, bad %v", err, c.bad)
			}
			got := ""
			if s.Forecast != nil {
				got = s.Forecast.Name()
			}
			if got != c.want {
				t.Errorf("service %q, want %q", got, c.want)
			}
		})
	}
}
