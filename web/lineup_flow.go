package web

import (
	"fmt"
	"time"

	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// flowModel is how the guests get to their looks, as the line-up is, and
// without each of its instruments.
func flowModel(sh *night.Sheet, fits *lineup.Matrix) views.FlowModel {
	c := sh.Input.CrowdingOf(fits, sh.Showings)
	if c.Looks == 0 || sh.Night.Guests == 0 {
		return views.FlowModel{}
	}
	m := views.FlowModel{Lead: flowWords(sh, c), Short: c.Short, Proposals: c.Proposals}
	m.Rows = []views.Row{
		{Label: "Looks for each guest", Value: fmt.Sprintf("%.1f", c.PerGuest), Note: fmt.Sprintf("%.0f looks for %d guests", c.Looks, sh.Night.Guests)},
		{Label: "Longest wait", Value: minutes(c.LongestWait), Note: "for the last in line if everybody came at once"},
		{Label: "Usual wait", Value: minutes(c.MeanWait), Note: "guests spread over the evening"},
	}
	m.Without = views.Table{Caption: "Without one of the instruments", Columns: []views.Column{
		{Label: "Without"}, {Label: "Looks for each guest", Number: true}, {Label: "Longest wait", Number: true}, {Label: "Usual wait", Number: true},
	}}
	for _, inst := range sh.Kit.Instruments {
		var rest []lineup.Showing
		for _, s := range sh.Showings {
			if s.InstrumentID != inst.ID {
				rest = append(rest, s)
			}
		}
		if len(rest) == len(sh.Showings) {
			continue
		}
		without := sh.Input.CrowdingOf(fits, rest)
		row := []views.Cell{{Text: inst.Name}, {Text: fmt.Sprintf("%.1f", without.PerGuest)}, {Text: minutes(without.LongestWait)}, {Text: minutes(without.MeanWait)}}
		if len(rest) == 0 {
			row = []views.Cell{{Text: inst.Name}, {Text: "0"}, {Text: "nothing to wait for"}, {}}
		}
		m.Without.Rows = append(m.Without.Rows, row)
	}
	return m
}

func flowWords(sh *night.Sheet, c lineup.Crowding) string {
	words := fmt.Sprintf("%.1f looks for each of %d guests; the longest wait is %s.", c.PerGuest, sh.Night.Guests, minutes(c.LongestWait))
	if c.Short {
		words += " The night is short of eyepieces."
	}
	return words
}

func minutes(d time.Duration) string {
	if d < time.Minute {
		return "under a minute"
	}
	return fmt.Sprintf("%.0f min", d.Minutes())
}
