package column

import (
	"bytes"
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"math"

	"duskboard/internal/fault"
)

// Ref is the id of a row elsewhere; 0, the domain's "none", is NULL here.
type Ref int64

// Value returns the id, or nil for none.
func (r Ref) Value() (driver.Value, error) {
	if r == 0 {
		return nil, nil
	}
	return int64(r), nil
}

// Scan reads what Value writes.
func (r *Ref) Scan(src any) error {
	switch v := src.(type) {
	case nil:
		*r = 0
	case int64:
		*r = Ref(v)
	default:
		return fmt.Errorf("id expected in the database, not %T", src)
	}
	return nil
}

// Real is a number that may be unknown: NaN in the domain, NULL here.
type Real float64

// Value returns the number, or nil for NaN.
func (r Real) Value() (driver.Value, error) {
	if math.IsNaN(float64(r)) {
		return nil, nil
	}
	return float64(r), nil
}

// Scan reads what Value writes.
func (r *Real) Scan(src any) error {
	switch v := src.(type) {
	case nil:
		*r = Real(math.NaN())
	case float64:
		*r = Real(v)
	case int64:
		*r = Real(v)
	default:
		return fmt.Errorf("number expected in the database, not %T", src)
	}
	return nil
}

// List is a list inside one value, kept as a JSON array. Nil and empty are
// the same: both are written [] and read nil.
type List[T any] []T

// Value returns the JSON text.
func (l List[T]) Value() (driver.Value, error) {
	if len(l) == 0 {
		return "[]", nil
	}
	return marshal([]T(l))
}

// Scan reads what Value writes. A field that it does not know is refused:
// it would be lost with the next save.
func (l *List[T]) Scan(src any) error {
	s, ok, err := text(src)
	*l = nil
	if err != nil || !ok || s == "[]" {
		return err
	}
	return unmarshal(s, (*[]T)(l))
}

// Object is a small record inside one value, kept as a JSON object; nil is
// NULL.
type Object[T any] struct{ V *T }

// Value returns the JSON text, or nil.
func (o Object[T]) Value() (driver.Value, error) {
	if o.V == nil {
		return nil, nil
	}
	return marshal(o.V)
}

// Scan reads what Value writes.
func (o *Object[T]) Scan(src any) error {
	s, ok, err := text(src)
	o.V = nil
	if err != nil || !ok {
		return err
	}
	o.V = new(T)
	return unmarshal(s, o.V)
}

// marshal refuses what JSON has no word for: a number that is none.
func marshal(v any) (driver.Value, error) {
	b, err := json.Marshal(v)
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "A number is missing or too large.")
	}
	return string(b), nil
}

func unmarshal(s string, into any) error {
	d := json.NewDecoder(bytes.NewReader([]byte(s)))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return fmt.Errorf("JSON in the database: %w", err)
	}
	return nil
}
