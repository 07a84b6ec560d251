package column

import (
	"database/sql/driver"
	"fmt"
	"time"

	"duskboard/internal/fault"
	"duskboard/internal/sky"
)

// layout is the one format of an instant: fixed width, so that text sorts as
// time does, and the same as SQLite's '%Y-%m-%dT%H:%M:%fZ'.
const layout = "2006-01-02T15:04:05.000Z"

// Instant is a moment, kept as UTC text to the millisecond. The zero Instant
// is NULL; in a column that must not be NULL it is refused by the constraint.
type Instant struct{ time.Time }

// At returns t as an Instant.
func At(t time.Time) Instant { return Instant{t} }

// Value returns the text of the instant, or nil for the zero one. Years that
// do not have four digits are refused, because their text would not sort.
func (i Instant) Value() (driver.Value, error) {
	if i.IsZero() {
		return nil, nil
	}
	utc := i.UTC()
	if utc.Year() < 0 || utc.Year() > 9999 {
		return nil, fault.New(fault.Invalid, "The year %d cannot be kept; it needs four digits.", utc.Year())
	}
	return utc.Format(layout), nil
}

// Scan reads what Value writes.
func (i *Instant) Scan(src any) error {
	s, ok, err := text(src)
	if err != nil || !ok {
		*i = Instant{}
		return err
	}
	t, err := time.Parse(layout, s)
	if err != nil {
		return fmt.Errorf("instant %q in the database: %w", s, err)
	}
	*i = Instant{t}
	return nil
}

// MarshalJSON writes the same text as Value, in quotes.
func (i Instant) MarshalJSON() ([]byte, error) {
	return []byte(`"` + i.UTC().Format(layout) + `"`), nil
}

// UnmarshalJSON reads what MarshalJSON writes.
func (i *Instant) UnmarshalJSON(b []byte) error {
	t, err := time.Parse(`"`+layout+`"`, string(b))
	if err != nil {
		return fmt.Errorf("instant %s in a snapshot: %w", b, err)
	}
	*i = Instant{t}
	return nil
}

// Seconds is a duration, kept as whole seconds.
type Seconds int64

// Length returns d as Seconds. Plans are made of whole minutes; what is finer
// than a second is cut off.
func Length(d time.Duration) Seconds { return Seconds(d / time.Second) }

// Duration returns the duration.
func (s Seconds) Duration() time.Duration { return time.Duration(s) * time.Second }

// Date is a civil date, kept as YYYY-MM-DD.
type Date struct{ sky.Date }

// Value returns the text of the date.
func (d Date) Value() (driver.Value, error) { return d.String(), nil }

// Scan reads what Value writes.
func (d *Date) Scan(src any) error {
	s, _, err := text(src)
	if err != nil {
		return err
	}
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return fmt.Errorf("date %q in the database: %w", s, err)
	}
	d.Date = sky.Date{Year: t.Year(), Month: t.Month(), Day: t.Day()}
	return nil
}

// text returns a column's text, and false when it is NULL.
func text(src any) (string, bool, error) {
	switch v := src.(type) {
	case nil:
		return "", false, nil
	case string:
		return v, true, nil
	case []byte:
		return string(v), true, nil
	}
	return "", false, fmt.Errorf("text expected in the database, not %T", src)
}
