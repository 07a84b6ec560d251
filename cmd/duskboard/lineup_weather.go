package main

import (
	"fmt"
	"time"

	conditions "duskboard/internal/field" // the tests of this package have a field of their own
	"duskboard/internal/lineup"
	"duskboard/internal/night"
)

// coolAnswer is the cool-down of one instrument.
type coolAnswer struct {
	Instrument int64     `json:"instrument"`
	Known      bool      `json:"known"`
	Part       string    `json:"part,omitempty"`
	PutOut     instant   `json:"putOut"`
	HoursTau   number    `json:"timeConstantHours"`
	LowPower   instant   `json:"readyForLowPower"`
	HighPower  instant   `json:"readyForHighPower"`
	Steps      []kelvins `json:"warmerThanAir"`
	Helps      []string  `json:"helps,omitempty"`
	Assumed    []string  `json:"assumed,omitempty"`
}

// kelvins is the glass against the air at the beginning of a block.
type kelvins struct {
	At number  `json:"k"`
	T  instant `json:"at"`
}

// dewAnswer is the dew of one surface.
type dewAnswer struct {
	Instrument int64   `json:"instrument"`
	Surface    string  `json:"surface"`
	Level      string  `json:"level"`
	Earliest   instant `json:"earliest"`
	Likely     instant `json:"likely"`
	Sentence   string  `json:"sentence"`
	Advice     string  `json:"advice,omitempty"`
}

func maybe(t time.Time) instant {
	if t.IsZero() {
		return instant{}
	}
	return at(t)
}

// weather adds cool-down, dew and the warnings that go with them.
func (a *lineUpAnswer) weather(sh *night.Sheet) {
	if sh.Forecasts == nil {
		a.Notes = append(a.Notes, "The file holds no weather: cool-down and dew are not judged.")
	}
	if sh.Night.Seeing == 0 {
		a.Notes = append(a.Notes, fmt.Sprintf("No seeing is given: %.1f arcseconds are assumed.", lineup.UsualSeeing))
	}
	for _, p := range sh.Power.Instruments {
		if p.Supply.Sentence != "" {
			a.Cautions = append(a.Cautions, cautionsAnswer{p.Instrument.ID, p.Supply.Sentence})
		}
	}
	for _, inst := range sh.Kit.Instruments {
		r, ok := sh.Forecasts[inst.ID]
		if !ok || r.State == conditions.NoWeather {
			a.CoolDown = append(a.CoolDown, coolAnswer{Instrument: inst.ID, Steps: []kelvins{}})
			continue
		}
		c := coolAnswer{
			Instrument: inst.ID, Known: true, Part: r.Cool.What, PutOut: at(r.PutOut), HoursTau: number{r.Cool.Tau, 2},
			LowPower: maybe(r.Cool.LowPower.Likely), HighPower: maybe(r.Cool.HighPower.Likely), Steps: []kelvins{}, Helps: r.Cool.Helps, Assumed: r.Assumed,
		}
		for _, slot := range sh.Input.Blocks() {
			if s, ok := r.CoolState(slot.From); ok {
				c.Steps = append(c.Steps, kelvins{number{s.Delta, 1}, at(slot.From)})
			}
		}
		a.CoolDown = append(a.CoolDown, c)
		for _, s := range r.Surfaces {
			a.Dew = append(a.Dew, dewAnswer{inst.ID, string(s.Surface.Kind), s.Onset.Level.String(), maybe(s.Onset.Earliest), maybe(s.Onset.Likely), s.Onset.Sentence(sh.Zone), s.Advice.Sentence})
		}
		for _, w := range r.Warnings {
			a.Cautions = append(a.Cautions, cautionsAnswer{inst.ID, w.Sentence})
		}
	}
}
