package web

import (
	"context"
	"encoding/csv"
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"duskboard/internal/catalog"
	"duskboard/internal/exchange"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

var targetColumns = []exchange.ColumnInfo{
	{Name: "name", Meaning: "finds the target that a row changes", Needed: true},
	{Name: "ra", Meaning: "right ascension, J2000: 00 42 44, or degrees with a decimal point", Needed: true},
	{Name: "dec", Meaning: "declination, J2000: +41 16 09, or degrees", Needed: true},
	{Name: "kind", Meaning: "open cluster, globular cluster, nebula, planetary nebula, galaxy, double star, bright star, asterism …; empty is other"},
	{Name: "constellation", Meaning: "three letters; empty is found from the place"},
	{Name: "mag", Meaning: "brightness, mag"},
	{Name: "major", Meaning: "larger size, arcminutes"},
	{Name: "minor", Meaning: "smaller size, arcminutes"},
	{Name: "pa", Meaning: "position angle, degrees from north through east"},
	{Name: "ly", Meaning: "distance, light-years"},
	{Name: "line", Meaning: "an opening line for the card"},
	{Name: "lookfor", Meaning: "what to look for"},
	{Name: "expect", Meaning: "what to expect"},
	{Name: "find", Meaning: "how to find it"},
	{Name: "elements", Meaning: "the published line of a comet or minor planet, in place of ra and dec"},
}

const targetTemplate = "\ufeffname,ra,dec,kind,mag,major,minor,ly,line\r\n" +
	"Example cluster,02 19 00,+57 08 00,open cluster,5.3,30,30,7500,take this row out\r\n"

// targetTable is the club's own targets as a table.
func (s *server) targetTable() tableImport {
	return tableImport{
		s: s, path: "/targets", over: "Targets", title: "Own targets from a table", section: inTargets, crumb: views.Link{Text: "Targets", Href: "/targets"},
		one: "target", many: "targets", file: "targets", columns: targetColumns, template: targetTemplate,
		hint: "A row with the name of one of the club's own targets changes it; empty cells leave what it has.",
		plan: func(ctx context.Context, text string) (tablePlan, error) {
			t, err := s.targetRows(ctx)
			if err != nil {
				return tablePlan{}, err
			}
			items, changes, err := t.plan(text)
			return tablePlan{changes, s.saveBatch("own targets from a table", night.Batch{Targets: items}, nil)}, err
		},
		export: func(ctx context.Context) ([]byte, error) {
			t, err := s.targetRows(ctx)
			if err != nil {
				return nil, err
			}
			return t.file("ra", "dec", "mag", "major", "minor", "pa", "ly")
		},
	}
}

func (s *server) targetRows(ctx context.Context) (rowTable[night.OwnTarget], error) {
	own, err := s.store.OwnTargets(ctx)
	return rowTable[night.OwnTarget]{
		kind: "Target", columns: targetColumns, have: own,
		key:    func(c map[string]string) string { return strings.ToLower(c["name"]) },
		called: func(x night.OwnTarget) string { return x.Name },
		cells:  targetCells,
		parse:  parseTargetRow,
	}, err
}

func targetCells(x night.OwnTarget) map[string]string {
	c := map[string]string{
		"name": x.Name, "kind": string(x.Kind), "elements": x.Elements,
		"line": x.Words.Line, "lookfor": x.Words.LookFor, "expect": x.Words.Expect, "find": x.Words.Find,
	}
	if x.Elements != "" {
		return c
	}
	c["ra"], c["dec"], c["constellation"] = exactly(x.Star.RA), exactly(x.Star.Dec), x.Constellation
	c["mag"], c["pa"] = known(x.Magnitude), known(x.PositionAngle)
	for name, v := range map[string]float64{"major": x.MajorAxis, "minor": x.MinorAxis, "ly": x.LightYears} {
		if v > 0 {
			c[name] = known(v)
		}
	}
	return c
}

// exactly writes degrees with a decimal point, which tells them from hours.
func exactly(deg float64) string {
	s := strconv.FormatFloat(deg, 'f', -1, 64)
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	return s
}

// parseTargetRow judges a row as the box for a table on the page of targets
// does; what a row cannot say of an old target stays.
func parseTargetRow(c map[string]string, old night.OwnTarget) (night.OwnTarget, fault.Fields) {
	if c["elements"] != "" {
		moving, faults := targetForm{Elements: c["elements"]}.moving()
		if len(faults) > 0 || len(moving) != 1 {
			return old, fault.Fields{{Name: "elements", Message: "the published line of one comet or minor planet, with its spaces as they are"}}
		}
		x := moving[0]
		x.ID, x.Version, x.Name = old.ID, old.Version, c["name"]
		if x.Name == "" {
			x.Name = moving[0].Name
		}
		x.Words = old.Words
		return x, nil
	}
	// One row of its own, by semicolons: there numbers may have decimal commas.
	cells := maps.Clone(c)
	delete(cells, "elements")
	heads := slices.Sorted(maps.Keys(cells))
	row := make([]string, len(heads))
	for i, h := range heads {
		row[i] = cells[h]
	}
	for _, needed := range []string{"name", "ra", "dec"} {
		if !slices.Contains(heads, needed) {
			heads, row = append(heads, needed), append(row, "")
		}
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Comma = ';'
	if err := w.WriteAll([][]string{heads, row}); err != nil {
		return old, fault.Fields{{Message: err.Error()}}
	}
	ts, err := catalog.ParseCSV(strings.NewReader(b.String()))
	var wrong catalog.CSVErrors
	if errors.As(err, &wrong) {
		var faults fault.Fields
		for _, e := range wrong {
			faults = append(faults, fault.Field{Name: e.Field, Message: e.Reason})
		}
		return old, faults
	}
	if err != nil || len(ts) != 1 {
		return old, fault.Fields{{Message: "this row cannot be read"}}
	}
	x := night.OwnTarget{Target: ts[0]}
	x.ID = "" // of the store, not of the table
	if old.ID == "" {
		return x, nil
	}
	merged := old
	merged.Star.RA, merged.Star.Dec, merged.Kind, merged.Constellation = x.Star.RA, x.Star.Dec, x.Kind, x.Constellation
	merged.Magnitude, merged.PositionAngle, merged.MajorAxis, merged.MinorAxis = x.Magnitude, x.PositionAngle, x.MajorAxis, x.MinorAxis
	merged.Words.Line, merged.Words.LookFor, merged.Words.Expect, merged.Words.Find = x.Words.Line, x.Words.LookFor, x.Words.Expect, x.Words.Find
	if merged.LightYears != x.LightYears {
		merged.LightYears, merged.Distance, merged.DistanceError = x.LightYears, x.Distance, 0
	}
	return merged, nil
}
