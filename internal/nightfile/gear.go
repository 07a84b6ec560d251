package nightfile

import (
	"fmt"
	"reflect"

	"duskboard/internal/kit"
)

// eachPiece visits every piece of a kit with the name of its list in a file,
// its place there, and where it names the instrument that it belongs to.
func eachPiece(k *kit.Kit, visit func(list string, i int, b *kit.Base, forID *int64)) {
	for i := range k.Instruments {
		visit("instruments", i, &k.Instruments[i].Base, nil)
	}
	for i := range k.Eyepieces {
		visit("eyepieces", i, &k.Eyepieces[i].Base, nil)
	}
	for i := range k.Amplifiers {
		visit("amplifiers", i, &k.Amplifiers[i].Base, nil)
	}
	for i := range k.Diagonals {
		visit("diagonals", i, &k.Diagonals[i].Base, &k.Diagonals[i].ForID)
	}
	for i := range k.Filters {
		visit("filters", i, &k.Filters[i].Base, nil)
	}
	for i := range k.Finders {
		visit("finders", i, &k.Finders[i].Base, &k.Finders[i].ForID)
	}
	for i := range k.DewGear {
		visit("dewGear", i, &k.DewGear[i].Base, &k.DewGear[i].ForID)
	}
	for i := range k.Batteries {
		visit("batteries", i, &k.Batteries[i].Base, &k.Batteries[i].ForID)
	}
	for i := range k.Steps {
		visit("steps", i, &k.Steps[i].Base, nil)
	}
}

// numberKit gives an id to every piece that has none, above those in use, so
// that a file typed by hand needs ids only where something points at them.
func numberKit(k *kit.Kit) {
	next := int64(0)
	eachPiece(k, func(_ string, _ int, b *kit.Base, _ *int64) { next = max(next, b.ID) })
	eachPiece(k, func(_ string, _ int, b *kit.Base, _ *int64) {
		if b.ID == 0 {
			next++
			b.ID = next
		}
		if b.Count == 0 {
			b.Count = 1
		}
	})
}

// piece is any kind of gear.
type piece[T any] interface {
	Fill() T
	Check() []kit.Fault
}

// checkKit reports what makes no sense, with the path of the piece.
func checkKit(k kit.Kit, bad func(path, format string, args ...any)) {
	checkAll("instruments", k.Instruments, bad)
	checkAll("eyepieces", k.Eyepieces, bad)
	checkAll("amplifiers", k.Amplifiers, bad)
	checkAll("diagonals", k.Diagonals, bad)
	checkAll("filters", k.Filters, bad)
	checkAll("finders", k.Finders, bad)
	checkAll("dewGear", k.DewGear, bad)
	checkAll("batteries", k.Batteries, bad)
	checkAll("steps", k.Steps, bad)
}

// checkAll checks one list. What a file leaves out is filled by a default
// later; what it says wrongly must not be healed in silence, so only absent
// values are excused from the check.
func checkAll[T piece[T]](list string, all []T, bad func(path, format string, args ...any)) {
	for i, x := range all {
		typed := reflect.ValueOf(&x).Elem()
		assumed := reflect.ValueOf(x.Fill()).FieldByName("Assumed").Interface().([]string)
		var absent []string
		for _, name := range assumed {
			if f := typed.FieldByName(name); f.IsValid() && f.IsZero() {
				absent = append(absent, name)
			}
		}
		absent = append(absent, typed.FieldByName("Assumed").Interface().([]string)...)
		typed.FieldByName("Assumed").Set(reflect.ValueOf(absent))
		for _, f := range x.Check() {
			bad(fmt.Sprintf("/kit/%s/%d/%s", list, i, lowerFirst(f.Field)), "%s", f.Message)
		}
	}
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return string(s[0]|0x20) + s[1:]
}
