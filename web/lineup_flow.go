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
		{Label: "Longest line", Value: longestLine(c), Note: "guests spread over the evening, bright things drawing more"},
		{Label: "Usual wait", Value: minutes(c.MeanWait)},
		{Label: "Longest wait", Value: minutes(c.LongestWait), Note: "for the last one if everybody came at once"},
	}
	m.Without = views.Table{Caption: "Without one of the instruments", Columns: []views.Column{
		{Label: "Without"}, {Label: "Looks for each guest", Number: true}, {Label: "Longest line", Number: true}, {Label: "Longest wait, all at once", Number: true},
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
		row := []views.Cell{{Text: inst.Name}, {Text: fmt.Sprintf("%.1f", without.PerGuest)}, {Text: longestLine(without)}, {Text: minutes(without.LongestWait)}}
		if len(rest) == 0 {
			row = []views.Cell{{Text: inst.Name}, {Text: "0"}, {Text: "nothing to wait for"}, {}}
		}
		m.Without.Rows = append(m.Without.Rows, row)
	}
	return m
}

func flowWords(sh *night.Sheet, c lineup.Crowding) string {
	words := fmt.Sprintf("%.1f looks for each of %s; ", c.PerGuest, plural(sh.Night.Guests, "guest", "guests"))
	if len(c.Queues) == 0 {
		return words + fmt.Sprintf("no line over %s.", minutes(lineup.LongWait))
	}
	q := c.Queues[0]
	return words + fmt.Sprintf("the longest line, for %s at %s, grows to %s.", targetName(sh, q.Showing.TargetID), sh.Input.InstrumentName(q.Showing.InstrumentID), minutes(q.Wait))
}

// longestLine is the wait at the longest line of the evening; lines that are
// short enough are not told apart.
func longestLine(c lineup.Crowding) string {
	if len(c.Queues) == 0 {
		return "under " + minutes(lineup.LongWait)
	}
	return minutes(c.Queues[0].Wait)
}

func minutes(d time.Duration) string {
	if d < time.Minute {
		return "under a minute"
	}
	return fmt.Sprintf("%.0f min", d.Minutes())
}
