package nightfile

import (
	"fmt"
	"reflect"

	"duskboard/internal/kit"
)

// numberKit gives an id to every piece that has none, above those in use, so
// that a file typed by hand needs ids only where something points at them.
func numberKit(k *kit.Kit) {
	var bases []*kit.Base
	for i := range k.Instruments {
		bases = append(bases, &k.Instruments[i].Base)
	}
	for i := range k.Eyepieces {
		bases = append(bases, &k.Eyepieces[i].Base)
	}
	for i := range k.Amplifiers {
		bases = append(bases, &k.Amplifiers[i].Base)
	}
	for i := range k.Diagonals {
		bases = append(bases, &k.Diagonals[i].Base)
	}
	for i := range k.Filters {
		bases = append(bases, &k.Filters[i].Base)
	}
	for i := range k.Finders {
		bases = append(bases, &k.Finders[i].Base)
	}
	for i := range k.DewGear {
		bases = append(bases, &k.DewGear[i].Base)
	}
	for i := range k.Batteries {
		bases = append(bases, &k.Batteries[i].Base)
	}
	for i := range k.Steps {
		bases = append(bases, &k.Steps[i].Base)
	}
	next := int64(0)
	for _, b := range bases {
		next = max(next, b.ID)
	}
	for _, b := range bases {
		if b.ID == 0 {
			next++
			b.ID = next
		}
		if b.Count == 0 {
			b.Count = 1
		}
	}
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
