package web

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/catalog"
	"duskboard/internal/chart"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// The sky in which cloud is drawn: eight directions, three heights.
var (
	skyDirections = []string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}
	skyBands      = []struct {
		from, to float64 // degrees
		word     string
	}{{0, 30, "low"}, {30, 60, "half way up"}, {60, 90, "overhead"}}
)

// skyCell is the sector of one box, "3-0": south-east, low. False for what is
// no box.
func skyCell(key string) (lineup.Sector, bool) {
	a, b, ok := strings.Cut(key, "-")
	d, err1 := strconv.Atoi(a)
	h, err2 := strconv.Atoi(b)
	if !ok || err1 != nil || err2 != nil || d < 0 || d >= len(skyDirections) || h < 0 || h >= len(skyBands) {
		return lineup.Sector{}, false
	}
	mid := float64(d) * 45
	from := mid - 22.5
	if from < 0 {
		from += 360
	}
	return lineup.Sector{AzFrom: from, AzTo: mid + 22.5, AltFrom: skyBands[h].from, AltTo: skyBands[h].to}, true
}

// cloudModel is the sky with its boxes: a drawing and a table that say the same.
func cloudModel(sh *night.Sheet, ticked []string, at time.Time) views.CloudModel {
	d := chart.SkyDrawing{ID: "clouds", Title: "The sky at " + siteClock(sh, at)}
	m := views.CloudModel{At: siteClock(sh, at)}
	for _, b := range skyBands {
		m.Heights = append(m.Heights, fmt.Sprintf("%s, %.0f° to %.0f°", first(b.word), b.from, b.to))
	}
	for i, name := range skyDirections {
		row := views.CloudRow{Direction: first(name)}
		for h, b := range skyBands {
			key := fmt.Sprintf("%d-%d", i, h)
			words := fmt.Sprintf("%s, %s, %.0f° to %.0f°", name, b.word, b.from, b.to)
			on := slices.Contains(ticked, key)
			d.Cells = append(d.Cells, chart.SkyCell{Key: key, AzFrom: float64(i)*45 - 22.5, AzTo: float64(i)*45 + 22.5, AltFrom: b.from, AltTo: b.to, Covered: on, Words: words})
			row.Boxes = append(row.Boxes, views.Check{Name: "sky", Value: key, Label: "Cloud in the " + words, Checked: on})
		}
		m.Rows = append(m.Rows, row)
	}
	seen := map[string]bool{}
	for _, x := range sh.Showings {
		t, ok := sh.Target(x.TargetID)
		if !ok || seen[x.TargetID] || !x.To().After(at) {
			continue
		}
		seen[x.TargetID] = true
		p := sh.Sky.At(catalog.ObjectOf(t), at)
		d.Dots = append(d.Dots, chart.SkyDot{Name: t.Name, Az: p.Az, Alt: p.AltRefracted})
	}
	m.Drawing = string(chart.RoundSky(d))
	return m
}
