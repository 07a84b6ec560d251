package exchange

import (
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"

	"duskboard/internal/kit"
)

// Outcome is what an import does with a row.
type Outcome string

// What becomes of a row.
const (
	Added   Outcome = "added"
	Changed Outcome = "changed"
	Same    Outcome = "left alone" // it says what is there already
)

// Change is what a row does.
type Change struct {
	Line       int // in the file, 1 being the heading
	Kind, Name string
	Outcome    Outcome
	Columns    []Differ // of a changed piece
}

// Differ is one column of a changed piece, as an export would write it; "" is
// nothing known.
type Differ struct {
	Column, Was, Is string
}

// KitPlan is what an import would do: Kit holds the pieces to save, as the
// store's ImportKit takes them, without those that stay as they are.
type KitPlan struct {
	Kit     kit.Kit
	Changes []Change // in the order of the file
}

// Count returns how many rows have an outcome.
func (p KitPlan) Count(o Outcome) int {
	n := 0
	for _, c := range p.Changes {
		if c.Outcome == o {
			n++
		}
	}
	return n
}

// PlanKit reads a table of gear over the kit that is there. A row whose kind
// and name are those of a piece changes it: cells that are empty, and columns
// that are missing, leave what the piece has. Retired pieces do not count.
// Faults as in ReadKit.
func PlanKit(r io.Reader, have kit.Kit) (KitPlan, error) {
	known := allColumns()
	t, err := ReadTable(r, func(c string) bool { return slices.Contains(known, c) })
	if err != nil {
		return KitPlan{}, err
	}
	over := &overKit{pieces: map[string][]reflect.Value{}, taken: map[string]int{}, names: map[int64]string{}}
	in := kitReader{instruments: map[string]int64{}, over: over}
	for n, list := range []any{have.Instruments, have.Eyepieces, have.Amplifiers, have.Diagonals, have.Filters, have.Finders, have.DewGear, have.Batteries, have.Steps} {
		all := reflect.ValueOf(list)
		for i := range all.Len() {
			over.add(kinds[n], all.Index(i))
		}
	}
	for _, i := range have.Instruments {
		if !i.Retired {
			in.instruments[strings.ToLower(i.Name)] = i.ID
		}
	}
	if err := in.read(t); err != nil {
		return KitPlan{}, err
	}
	slices.SortStableFunc(over.changes, func(a, b Change) int { return a.Line - b.Line })
	return KitPlan{in.kit, over.changes}, nil
}

// overKit is the kit that an import goes over. A nil one has nothing in it and
// keeps no account.
type overKit struct {
	pieces  map[string][]reflect.Value // by kind and name
	taken   map[string]int             // in which line of the file they stood
	names   map[int64]string           // of instruments
	changes []Change
}

func pieceKey(kind, name string) string { return kind + "\x00" + strings.ToLower(name) }

func (o *overKit) add(kind string, x reflect.Value) {
	if x.FieldByName("Retired").Bool() {
		return
	}
	name := x.FieldByName("Name").String()
	if kind == "instrument" {
		o.names[x.FieldByName("ID").Int()] = name
	}
	key := pieceKey(kind, name)
	o.pieces[key] = append(o.pieces[key], x)
}

// piece finds what a row changes; the zero Value when it is a new piece.
func (o *overKit) piece(kind string, row Row) (reflect.Value, error) {
	if o == nil {
		return reflect.Value{}, nil
	}
	key := pieceKey(kind, row.Cells["name"])
	if line := o.taken[key]; line > 0 {
		return reflect.Value{}, fmt.Errorf("row %d has this kind and name already; give each its own name, or write how many there are into the column count", line)
	}
	o.taken[key] = row.Line
	switch found := o.pieces[key]; len(found) {
	case 0:
		return reflect.Value{}, nil
	case 1:
		return found[0], nil
	default:
		return reflect.Value{}, fmt.Errorf("the kit has %d pieces called so, and the row could mean each: give them different names on the kit page first", len(found))
	}
}

// where says in which place an instrument was looked for.
func (o *overKit) where() string {
	if o == nil {
		return "this table"
	}
	return "this table or the kit"
}

// wanted tells whether a filled piece must be saved: not when it is what is
// there already.
func (o *overKit) wanted(old reflect.Value) func(reflect.Value) bool {
	return func(filled reflect.Value) bool {
		return o == nil || !old.IsValid() || len(o.differences(old, filled)) > 0
	}
}

// note keeps what a row does.
func (o *overKit) note(line int, kind string, old, filled reflect.Value) {
	if o == nil {
		return
	}
	c := Change{Line: line, Kind: kind, Name: filled.FieldByName("Name").String(), Outcome: Added}
	if kind == "instrument" {
		o.names[filled.FieldByName("ID").Int()] = c.Name
	}
	if old.IsValid() {
		c.Outcome = Same
		if c.Columns = o.differences(old, filled); len(c.Columns) > 0 {
			c.Outcome = Changed
		}
	}
	o.changes = append(o.changes, c)
}

// differences compares two pieces of a kind by their cells. A value that is
// known now and was assumed before is a difference, even when it is the same.
func (o *overKit) differences(old, filled reflect.Value) []Differ {
	cols := allColumns()
	numeric := make([]bool, len(cols))
	was := rowOf("", old, cols, numeric, o.names)
	is := rowOf("", filled, cols, numeric, o.names)
	var ds []Differ
	for i, c := range cols {
		if was[i] != is[i] {
			ds = append(ds, Differ{c, was[i], is[i]})
		}
	}
	return ds
}
