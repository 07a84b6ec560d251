package exchange

import (
	"fmt"
	"io"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"

	"duskboard/internal/kit"
)

// The columns of a kit table are the names of the fields of the kit's types in
// lower case, behind kind, which says what a row is. One table holds all kinds;
// a cell that has no meaning for its kind is a fault. An empty cell takes the
// usual value and is marked as assumed, as an empty field of the form is.

// kinds are the words of the column kind, in the order of an export.
var kinds = []string{"instrument", "eyepiece", "amplifier", "diagonal", "filter", "finder", "dew-gear", "battery", "steps"}

// lengths are the columns that are lengths, with the unit of a bare number.
var lengths = map[string]string{
	"aperture": "mm", "focallength": "mm", "thickness": "mm", "maxfieldstop": "mm", "backfocus": "mm", "fieldstop": "mm", "eyerelief": "mm",
	"maxstop": "mm", "pathused": "mm", "mindiameter": "mm", "maxdiameter": "mm", "length": "mm",
	"pivotheight": "m", "pivottoeye": "m", "eyeoffset": "m", "tubelength": "m", "height": "m",
}

// column is one field of a kind of gear.
type column struct {
	name  string // heading
	path  []int  // of reflect.Value.FieldByIndex
	field string // name of the Go field, as in kit.Fault and Assumed
}

// skipped are fields that a table does not carry: ours, not the club's.
var skipped = map[string]bool{"ID": true, "Version": true, "Assumed": true, "OwnerID": true, "ForID": true}

// columnsOf lists the columns of a kind, in the order of its fields.
func columnsOf(t reflect.Type) []column {
	var cols []column
	for _, f := range reflect.VisibleFields(t) {
		switch {
		case f.Anonymous || skipped[f.Name] || f.Type == reflect.TypeFor[kit.SolarFilter]():
			continue
		}
		cols = append(cols, column{strings.ToLower(f.Name), f.Index, f.Name})
	}
	if solar, ok := t.FieldByName("SolarFilter"); ok {
		for _, f := range reflect.VisibleFields(solar.Type) {
			cols = append(cols, column{"solar" + strings.ToLower(f.Name), append(slices.Clone(solar.Index), f.Index...), "SolarFilter"})
		}
	}
	return cols
}

// gearType is the Go type of a word of kind.
func gearType(kind string) reflect.Type {
	switch kind {
	case "instrument":
		return reflect.TypeFor[kit.Instrument]()
	case "eyepiece":
		return reflect.TypeFor[kit.Eyepiece]()
	case "amplifier":
		return reflect.TypeFor[kit.Amplifier]()
	case "diagonal":
		return reflect.TypeFor[kit.Diagonal]()
	case "filter":
		return reflect.TypeFor[kit.Filter]()
	case "finder":
		return reflect.TypeFor[kit.Finder]()
	case "dew-gear":
		return reflect.TypeFor[kit.DewGear]()
	case "battery":
		return reflect.TypeFor[kit.Battery]()
	case "steps":
		return reflect.TypeFor[kit.Steps]()
	}
	return nil
}

// belongs are the kinds that may belong to an instrument of the table, by the
// column for.
func belongs(t reflect.Type) bool { _, ok := t.FieldByName("ForID"); return ok }

// allColumns are the headings of a kit table: kind and name first. The column
// type is the kind of a kind (Barlow lens, mirror diagonal), the field Kind.
func allColumns() []string {
	cols := []string{"kind", "name", "type", "for"}
	for _, k := range kinds {
		for _, c := range columnsOf(gearType(k)) {
			if name := heading(c.name); !slices.Contains(cols, name) {
				cols = append(cols, name)
			}
		}
	}
	return cols
}

// heading of the field Kind is type, since kind says what a row is.
func heading(name string) string {
	if name == "kind" {
		return "type"
	}
	return name
}

// ReadKit reads a table of gear. New pieces have negative ids, as the store's
// ImportKit takes them; ForID refers to those. All or nothing: with any fault
// the kit is empty and the error holds Faults.
func ReadKit(r io.Reader) (kit.Kit, error) {
	known := allColumns()
	t, err := ReadTable(r, func(c string) bool { return slices.Contains(known, c) })
	if err != nil {
		return kit.Kit{}, err
	}
	in := kitReader{instruments: map[string]int64{}}
	if err := in.read(t); err != nil {
		return kit.Kit{}, err
	}
	return in.kit, nil
}

type kitReader struct {
	kit         kit.Kit
	faults      Faults
	instruments map[string]int64
	last        int64
	over        *overKit // nil: every row is a new piece
}

// read takes all rows, or none and tells the faults in the order of the file.
func (in *kitReader) read(t Table) error {
	// Instruments first, wherever they stand: the others may belong to them.
	for _, first := range []bool{true, false} {
		for _, row := range t.Rows {
			if (row.Cells["kind"] == "instrument") == first {
				in.row(row)
			}
		}
	}
	slices.SortStableFunc(in.faults, func(a, b Fault) int { return a.Line - b.Line })
	return in.faults.OrNil()
}

// row reads one piece by the fields of its type.
func (in *kitReader) row(row Row) {
	kind := row.Cells["kind"]
	t := gearType(kind)
	bad := func(column, format string, args ...any) {
		in.faults = append(in.faults, Fault{row.Line, column, fmt.Sprintf(format, args...)})
	}
	if t == nil {
		bad("kind", "write one of %s", strings.Join(kinds, ", "))
		return
	}
	before := len(in.faults)
	x := reflect.New(t).Elem()
	old, err := in.over.piece(kind, row)
	if err != nil {
		bad("name", "%s", err)
		return
	}
	if old.IsValid() {
		x.Set(old) // what the table does not say stays as it is
		row.Cells["name"] = old.FieldByName("Name").String()
	}
	used := map[string]bool{"kind": true, "for": belongs(t)}
	var empty []string
	for _, c := range columnsOf(t) {
		used[heading(c.name)] = true
		cell := row.Cells[heading(c.name)]
		if cell == "" {
			if !old.IsValid() || slices.Contains(old.FieldByName("Assumed").Interface().([]string), c.field) {
				empty = append(empty, c.field)
			}
			continue
		}
		if err := set(x.FieldByIndex(c.path), c.name, cell, x); err != nil {
			bad(heading(c.name), "%s", err)
		}
	}
	for name, cell := range row.Cells {
		if !used[name] {
			bad(name, "“%s” has no meaning for %s", clip(cell), kind)
		}
	}
	if !old.IsValid() {
		in.last--
		x.FieldByName("ID").SetInt(in.last)
		if count := x.FieldByName("Count"); row.Cells["count"] == "" {
			count.SetInt(1)
		}
	}
	if owner := row.Cells["for"]; owner != "" && belongs(t) {
		id, ok := in.instruments[strings.ToLower(owner)]
		if !ok {
			bad("for", "there is no instrument “%s” in %s", clip(owner), in.over.where())
		}
		x.FieldByName("ForID").SetInt(id)
	}
	if len(in.faults) > before {
		return
	}
	filled, faults := add(&in.kit, x, empty, in.over.wanted(old))
	for _, f := range faults {
		column := headingOf(t, f.Field)
		if f.Message == kit.NotListed { // a cell has no list to choose from
			bad(column, "%s: %s", noWord(x.FieldByName(f.Field)), kitMeanings[column])
			continue
		}
		bad(column, "%s", f.Message)
	}
	if len(faults) > 0 {
		return
	}
	in.over.note(row.Line, kind, old, filled)
	if kind == "instrument" {
		in.instruments[strings.ToLower(x.FieldByName("Name").String())] = x.FieldByName("ID").Int()
	}
}

// noWord begins the fault of a cell whose word is not known, or missing.
func noWord(v reflect.Value) string {
	if v.Kind() != reflect.String || v.String() == "" {
		return "write one of"
	}
	return fmt.Sprintf("“%s” is none of", clip(v.String()))
}

// headingOf is the column of a Go field.
func headingOf(t reflect.Type, field string) string {
	for _, c := range columnsOf(t) {
		if c.field == field {
			return heading(c.name)
		}
	}
	return ""
}

// gear is what each type of the kit offers.
type gear[T any] interface {
	Fill() T
	Check() []kit.Fault
}

// add checks a piece, fills what was left empty, and puts it into the kit when
// wanted says so of the filled piece.
func add(k *kit.Kit, x reflect.Value, empty []string, wanted func(filled reflect.Value) bool) (reflect.Value, []kit.Fault) {
	switch v := x.Interface().(type) {
	case kit.Instrument:
		return put(&k.Instruments, v, empty, kit.InstrumentFields, wanted)
	case kit.Eyepiece:
		return put(&k.Eyepieces, v, empty, kit.EyepieceFields, wanted)
	case kit.Amplifier:
		return put(&k.Amplifiers, v, empty, kit.AmplifierFields, wanted)
	case kit.Diagonal:
		return put(&k.Diagonals, v, empty, kit.DiagonalFields, wanted)
	case kit.Filter:
		return put(&k.Filters, v, empty, kit.FilterFields, wanted)
	case kit.Finder:
		return put(&k.Finders, v, empty, kit.FinderFields, wanted)
	case kit.DewGear:
		return put(&k.DewGear, v, empty, kit.DewGearFields, wanted)
	case kit.Battery:
		return put(&k.Batteries, v, empty, kit.BatteryFields, wanted)
	case kit.Steps:
		return put(&k.Steps, v, empty, kit.StepsFields, wanted)
	}
	panic("exchange: a kind of gear without a place in the kit") // gearType has no other
}

func put[T gear[T]](list *[]T, x T, empty []string, assumable []kit.Assumable, wanted func(reflect.Value) bool) (reflect.Value, []kit.Fault) {
	v := reflect.ValueOf(&x).Elem()
	var assumed []string
	for _, a := range assumable {
		if slices.Contains(empty, a.Field) {
			assumed = append(assumed, a.Field)
		}
	}
	v.FieldByName("Assumed").Set(reflect.ValueOf(assumed))
	if faults := x.Check(); len(faults) > 0 {
		return reflect.Value{}, faults
	}
	x = x.Fill()
	filled := reflect.ValueOf(x)
	if wanted(filled) {
		*list = append(*list, x)
	}
	return filled, nil
}

// set reads a cell into a field.
func set(f reflect.Value, name, cell string, x reflect.Value) error {
	switch f.Interface().(type) {
	case time.Time:
		d, err := time.Parse(time.DateOnly, cell)
		if err != nil || d.Year() < 1900 {
			return fmt.Errorf("“%s” is no date: write 2026-09-14", clip(cell))
		}
		f.Set(reflect.ValueOf(d))
		return nil
	case []kit.Design:
		var all []kit.Design
		for word := range strings.FieldsFuncSeq(cell, func(r rune) bool { return strings.ContainsRune(",; ", r) }) {
			all = append(all, kit.Design(strings.ToLower(word)))
		}
		f.Set(reflect.ValueOf(all))
		return nil
	case *bool:
		v, err := truth(cell)
		f.Set(reflect.ValueOf(&v))
		return err
	}
	switch f.Kind() {
	case reflect.String:
		if f.Type() == reflect.TypeFor[string]() {
			f.SetString(cell)
		} else {
			f.SetString(strings.ToLower(cell)) // a word of the trade
		}
		return nil
	case reflect.Bool:
		v, err := truth(cell)
		f.SetBool(v)
		return err
	case reflect.Int:
		n, err := strconv.Atoi(cell)
		f.SetInt(int64(n))
		if err != nil {
			return fmt.Errorf("“%s” is no whole number", clip(cell))
		}
		return nil
	case reflect.Float64:
		v, err := amount(name, cell, x)
		f.SetFloat(v)
		return err
	}
	return fmt.Errorf("cannot be read") // no field of the kit has another kind
}

// amount reads a number in the unit of its column.
func amount(name, cell string, x reflect.Value) (float64, error) {
	unit, length := lengths[name]
	var v float64
	var err error
	switch {
	case name == "focallength" && x.FieldByName("Aperture").IsValid():
		v, err = kit.ParseFocalLength(cell, x.FieldByName("Aperture").Float())
	case length:
		v, err = kit.ParseLength(cell, unit)
	default:
		v, err = kit.ParseNumber(cell)
	}
	if err != nil {
		return 0, fmt.Errorf("“%s”: %w", clip(cell), err)
	}
	if length && unit == "m" {
		v /= 1000 // ParseLength answers in mm
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("“%s” is no number", clip(cell))
	}
	return v, nil
}

var truths = map[string]bool{"yes": true, "true": true, "1": true, "x": true, "ja": true, "oui": true, "no": false, "false": false, "0": false, "nein": false, "non": false}

func truth(cell string) (bool, error) {
	v, ok := truths[strings.ToLower(cell)]
	if !ok {
		return false, fmt.Errorf("“%s”: write yes or no", clip(cell))
	}
	return v, nil
}
