package exchange

import (
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/kit"
)

// WriteKit writes the kit as a table that ReadKit reads back to the same kit,
// owners and ids apart: assumed values stay empty, so that they stay assumed.
// Columns that nobody uses are left out.
func WriteKit(w io.Writer, k kit.Kit) error {
	names := map[int64]string{}
	for _, i := range k.Instruments {
		names[i.ID] = i.Name
	}
	cols := allColumns()
	var rows [][]string
	numeric := make([]bool, len(cols))
	for n, list := range []any{k.Instruments, k.Eyepieces, k.Amplifiers, k.Diagonals, k.Filters, k.Finders, k.DewGear, k.Batteries, k.Steps} {
		all := reflect.ValueOf(list)
		for i := range all.Len() {
			rows = append(rows, rowOf(kinds[n], all.Index(i), cols, numeric, names))
		}
	}
	used := func(i int) bool {
		return slices.ContainsFunc(rows, func(r []string) bool { return r[i] != "" })
	}
	var keep []int
	for i := range cols {
		if i < 2 || used(i) {
			keep = append(keep, i)
		}
	}
	pick := func(from []string) []string {
		to := make([]string, len(keep))
		for j, i := range keep {
			to[j] = from[i]
		}
		return to
	}
	for i := range rows {
		rows[i] = pick(rows[i])
	}
	return WriteTable(w, pick(cols), rows, func(i int) bool { return numeric[keep[i]] })
}

func rowOf(kind string, x reflect.Value, cols []string, numeric []bool, names map[int64]string) []string {
	row := make([]string, len(cols))
	row[0] = kind
	assumed := x.FieldByName("Assumed").Interface().([]string)
	for _, c := range columnsOf(x.Type()) {
		i := slices.Index(cols, heading(c.name))
		f := x.FieldByIndex(c.path)
		numeric[i] = numeric[i] || f.Kind() == reflect.Float64 || f.Kind() == reflect.Int
		if !slices.Contains(assumed, c.field) {
			row[i] = cellOf(f, assumable(x.Type(), c.field))
		}
	}
	if belongs(x.Type()) {
		row[slices.Index(cols, "for")] = names[x.FieldByName("ForID").Int()]
	}
	return row
}

// assumable reports whether an empty cell of the field would be filled: there 0
// and no must be written out.
func assumable(t reflect.Type, field string) bool {
	lists := map[string][]kit.Assumable{
		"Instrument": kit.InstrumentFields, "Eyepiece": kit.EyepieceFields, "Amplifier": kit.AmplifierFields, "Diagonal": kit.DiagonalFields,
		"Filter": kit.FilterFields, "Finder": kit.FinderFields, "DewGear": kit.DewGearFields, "Battery": kit.BatteryFields, "Steps": kit.StepsFields,
	}
	return slices.ContainsFunc(lists[t.Name()], func(a kit.Assumable) bool { return a.Field == field })
}

func cellOf(f reflect.Value, zeroCounts bool) string {
	switch v := f.Interface().(type) {
	case time.Time:
		if v.IsZero() {
			return ""
		}
		return v.Format(time.DateOnly)
	case []kit.Design:
		words := make([]string, len(v))
		for i, d := range v {
			words[i] = string(d)
		}
		return strings.Join(words, " ")
	case *bool:
		if v == nil {
			return ""
		}
		return yesNo(*v)
	}
	if f.IsZero() && !zeroCounts {
		return ""
	}
	switch f.Kind() {
	case reflect.Bool:
		return yesNo(f.Bool())
	case reflect.Int:
		return strconv.FormatInt(f.Int(), 10)
	case reflect.Float64:
		return strconv.FormatFloat(f.Float(), 'f', -1, 64)
	}
	return f.String()
}

func yesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}
