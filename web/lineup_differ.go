package web

import (
	"fmt"
	"strings"
	"time"

	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// differences says in words, instrument by instrument, where a line-up departs
// from another: from when to when which target instead of which. Nothing is
// said about what is the same.
func differences(sh *night.Sheet, m *lineup.Matrix, was, is []lineup.Showing) []string {
	var out []string
	for _, inst := range sh.Kit.Instruments {
		type change struct {
			from, to     time.Time
			before, then string
		}
		var runs []change
		for _, slot := range m.Blocks {
			a, b := shownAt(sh, m, was, inst.ID, slot), shownAt(sh, m, is, inst.ID, slot)
			if a == b {
				continue
			}
			if n := len(runs); n > 0 && runs[n-1].to.Equal(slot.From) && runs[n-1].before == a && runs[n-1].then == b {
				runs[n-1].to = slot.To
				continue
			}
			runs = append(runs, change{slot.From, slot.To, a, b})
		}
		for _, c := range runs {
			words := fmt.Sprintf("%s, %s: %s instead of %s.", inst.Name, span(sh, c.from, c.to), c.then, c.before)
			switch {
			case c.before == "":
				words = fmt.Sprintf("%s, %s: %s, where nothing was.", inst.Name, span(sh, c.from, c.to), c.then)
			case c.then == "":
				words = fmt.Sprintf("%s, %s: nothing, where %s was.", inst.Name, span(sh, c.from, c.to), c.before)
			}
			out = append(out, words)
		}
	}
	return out
}

// shownAt is what an instrument shows in a block, with its gear; "" nothing.
func shownAt(sh *night.Sheet, m *lineup.Matrix, all []lineup.Showing, inst int64, slot lineup.Slot) string {
	for _, s := range all {
		if s.InstrumentID == inst && !s.From.After(slot.Middle()) && s.To().After(slot.Middle()) {
			words := targetName(sh, s.TargetID)
			if v := sh.Input.ViewOf(m, s); v.Known && v.Train.Eyepiece != nil {
				words += " with " + v.Gear()
			}
			return words
		}
	}
	return ""
}

// scoreTable holds line-ups of one night side by side.
func scoreTable(sh *night.Sheet, m *lineup.Matrix, names []string, sets ...[]lineup.Showing) views.Table {
	t := views.Table{Caption: "Scores", Columns: []views.Column{{Label: ""}}}
	rows := [][]views.Cell{{{Text: "Good looks"}}, {{Text: "Showings"}}, {{Text: "Different targets"}}, {{Text: "Looks for each guest"}}, {{Text: "Longest wait"}}, {{Text: "Conflicts"}}}
	for i, name := range names {
		t.Columns = append(t.Columns, views.Column{Label: name, Number: true})
		targets := map[string]bool{}
		for _, s := range sets[i] {
			targets[s.TargetID] = true
		}
		c := sh.Input.CrowdingOf(m, sets[i])
		for j, v := range []string{
			fmt.Sprintf("%.0f", sh.Input.Worth(m, sets[i])), fmt.Sprint(len(sets[i])), fmt.Sprint(len(targets)),
			fmt.Sprintf("%.1f", c.PerGuest), minutes(c.LongestWait), fmt.Sprint(len(sh.Input.Check(m, sets[i]))),
		} {
			rows[j] = append(rows[j], views.Cell{Text: v})
		}
	}
	t.Rows = rows
	return t
}

// sentence joins parts that are not empty.
func sentence(parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, " ")
}
