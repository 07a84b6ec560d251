package web

import (
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"duskboard/internal/kit"
	"duskboard/web/views"
)

// Constructors of entries: each ties one Go field to one box of a form.

// textEntry is a line of words, at most 200 letters.
func textEntry[T any](name, label string, ptr func(*T) *string) entry[T] {
	return entry[T]{
		name: name, label: label,
		read: func(x *T, raw string, _ refs) error {
			if utf8.RuneCountInString(raw) > 200 {
				return fmt.Errorf("at most 200 letters")
			}
			*ptr(x) = raw
			return nil
		},
		clear: func(x *T) { *ptr(x) = "" },
		write: func(x T, _ refs) string { return *ptr(&x) },
	}
}

// notesEntry is a text of several lines, at most 4,000 letters.
func notesEntry[T any](ptr func(*T) *string) entry[T] {
	e := textEntry("Notes", "Notes", ptr)
	e.kind = areaEntry
	e.read = func(x *T, raw string, _ refs) error {
		if utf8.RuneCountInString(raw) > 4000 {
			return fmt.Errorf("at most 4000 letters")
		}
		*ptr(x) = strings.ReplaceAll(raw, "\r\n", "\n")
		return nil
	}
	return e
}

// numberEntry is a plain decimal number in the unit printed behind the box.
func numberEntry[T any](name, label, unit string, ptr func(*T) *float64) entry[T] {
	return entry[T]{
		name: name, label: label, unit: unit, class: "short", mode: "decimal",
		read: func(x *T, raw string, _ refs) (err error) {
			// A unit that repeats the printed one is no mistake: "12 V".
			*ptr(x), err = kit.ParseNumber(strings.TrimSpace(strings.TrimSuffix(raw, unit)))
			return err
		},
		clear: func(x *T) { *ptr(x) = 0 },
		write: func(x T, _ refs) string { return box(*ptr(&x)) },
	}
}

// lengthEntry is a length kept in plain ("mm" or "m"), typed in any unit.
func lengthEntry[T any](name, label, plain string, ptr func(*T) *float64) entry[T] {
	e := numberEntry(name, label, plain, ptr)
	size := 1.0 // mm in one plain
	if plain == "m" {
		size = 1000
	}
	e.read = func(x *T, raw string, _ refs) error {
		mm, err := kit.ParseLength(hyphenless(raw), plain)
		*ptr(x) = roundTo(mm/size, 4)
		return err
	}
	return e
}

// bothEntry is a length in mm that is said in both units, and typed in inches
// first where the club prefers it.
func bothEntry[T any](name, label string, ptr func(*T) *float64) entry[T] {
	e := lengthEntry(name, label, "mm", ptr)
	e.unit = "mm or in"
	e.read = func(x *T, raw string, u refs) error {
		plain := "mm"
		if u.inches {
			plain = "in"
		}
		mm, err := kit.ParseLength(hyphenless(raw), plain)
		*ptr(x) = roundTo(mm, 4)
		return err
	}
	e.write = func(x T, u refs) string {
		mm := *ptr(&x)
		if mm != 0 && u.inches {
			return box(mm/25.4) + " in"
		}
		return box(mm)
	}
	e.also = func(x T) string {
		if mm := *ptr(&x); mm > 0 {
			return bothUnits(mm)
		}
		return ""
	}
	return e
}

// hyphenless lets "8-inch" be typed as it is spoken.
func hyphenless(s string) string {
	return strings.NewReplacer("-in", " in", "-mm", " mm").Replace(s)
}

// wordEntry is one of a closed list. With two type parameters it takes every
// word type of the domain.
func wordEntry[T any, W ~string](name, label string, words []views.Option, ptr func(*T) *W) entry[T] {
	return entry[T]{
		name: name, label: label, kind: choiceEntry, class: "mid",
		options: func(refs) []views.Option { return words },
		read: func(x *T, raw string, _ refs) error {
			*ptr(x) = W(raw)
			for _, o := range words {
				if o.Value == raw {
					return nil
				}
			}
			return fmt.Errorf("choose one from the list")
		},
		clear: func(x *T) { *ptr(x) = "" },
		write: func(x T, _ refs) string { return string(*ptr(&x)) },
	}
}

var yesNo = []views.Option{{Value: "yes", Text: "Yes"}, {Value: "no", Text: "No"}}

// usualEntry is a yes or no that may be left to the default.
func usualEntry[T any](name, label string, ptr func(*T) *bool) entry[T] {
	return entry[T]{
		name: name, label: label, kind: choiceEntry, class: "short", assumable: true,
		options: func(refs) []views.Option { return yesNo },
		read: func(x *T, raw string, _ refs) error {
			*ptr(x) = raw == "yes"
			if raw != "yes" && raw != "no" {
				return fmt.Errorf("choose yes or no")
			}
			return nil
		},
		clear: func(x *T) { *ptr(x) = false },
		write: func(x T, _ refs) string {
			if *ptr(&x) {
				return "yes"
			}
			return "no"
		},
	}
}

// boolEntry is a box to tick; not ticked is an answer.
func boolEntry[T any](name, label string, ptr func(*T) *bool) entry[T] {
	return entry[T]{
		name: name, label: label, kind: tickEntry, class: "mid",
		read:  func(x *T, _ string, _ refs) error { *ptr(x) = true; return nil },
		clear: func(x *T) { *ptr(x) = false },
		write: func(x T, _ refs) string {
			if *ptr(&x) {
				return "1"
			}
			return ""
		},
	}
}

// refEntry is the number of something else, picked by name; none is 0.
func refEntry[T any](name, label, none string, options func(refs) []views.Option, ptr func(*T) *int64) entry[T] {
	offered := func(u refs) []views.Option {
		return append([]views.Option{{Value: "", Text: none}}, options(u)...)
	}
	return entry[T]{
		name: name, label: label, kind: choiceEntry, class: "mid", options: offered,
		read: func(x *T, raw string, u refs) error {
			for _, o := range options(u) {
				if o.Value == raw {
					*ptr(x), _ = strconv.ParseInt(raw, 10, 64) // our own option
					return nil
				}
			}
			return fmt.Errorf("choose one from the list")
		},
		clear: func(x *T) { *ptr(x) = 0 },
		write: func(x T, _ refs) string {
			if *ptr(&x) == 0 {
				return ""
			}
			return strconv.FormatInt(*ptr(&x), 10)
		},
	}
}

// dateOfEntry is a calendar date without a time.
func dateOfEntry[T any](name, label string, ptr func(*T) *time.Time) entry[T] {
	return entry[T]{
		name: name, label: label, kind: dateEntry, class: "short",
		read: func(x *T, raw string, _ refs) error {
			t, err := time.Parse(time.DateOnly, raw)
			if err != nil {
				return fmt.Errorf("write the date as 2026-05-14")
			}
			*ptr(x) = t
			return nil
		},
		clear: func(x *T) { *ptr(x) = time.Time{} },
		write: func(x T, _ refs) string {
			if ptr(&x).IsZero() {
				return ""
			}
			return ptr(&x).Format(time.DateOnly)
		},
	}
}

// baseEntries are the fields that every piece of gear has, but its name.
func baseEntries[T any](base func(*T) *kit.Base) []entry[T] {
	count := entry[T]{
		name: "Count", label: "How many of the same", unit: "pieces", class: "short", mode: "numeric",
		read: func(x *T, raw string, _ refs) error {
			n, err := strconv.Atoi(raw)
			if err != nil {
				return fmt.Errorf("a whole number, 1 to 99")
			}
			base(x).Count = n
			return nil
		},
		clear: func(x *T) { base(x).Count = 1 },
		write: func(x T, _ refs) string { return strconv.Itoa(base(&x).Count) },
	}
	return []entry[T]{
		refEntry("OwnerID", "Owner", "The club", func(u refs) []views.Option { return u.volunteers }, func(x *T) *int64 { return &base(x).OwnerID }),
		count,
		notesEntry(func(x *T) *string { return &base(x).Notes }),
	}
}

// nameEntry is the name the club calls it by; left empty, one is made.
func nameEntry[T any](base func(*T) *kit.Base, example string) entry[T] {
	e := textEntry("Name", "What the club calls it", func(x *T) *string { return &base(x).Name })
	e.hint, e.class = "Left empty, it gets a plain name such as “"+example+"”.", "mid"
	return e
}

// assume marks the entries that kit fills when they are empty, and takes label,
// unit and reason from kit's table where the form says nothing better.
func assume[T any](groups []group[T], fields []kit.Assumable) []group[T] {
	for gi := range groups {
		for ei := range groups[gi].entries {
			e := &groups[gi].entries[ei]
			for _, f := range fields {
				if f.Field != e.name {
					continue
				}
				e.assumable = true
				if e.label == "" {
					e.label = first(f.Label)
				}
				if e.unit == "" && e.kind == boxEntry {
					e.unit = f.Unit
				}
				if e.hint == "" {
					e.hint = "If empty: " + f.Why + "."
				}
			}
		}
	}
	return groups
}

// listEntry is any number of a closed list, sent and kept as words with commas.
func listEntry[T any, W ~string](name, label string, words []views.Option, ptr func(*T) *[]W) entry[T] {
	return entry[T]{
		name: name, label: label, kind: listEntryKind,
		options: func(refs) []views.Option { return words },
		read: func(x *T, raw string, _ refs) error {
			*ptr(x) = nil
			for _, w := range strings.Split(raw, ",") {
				if wordFor(words, w) == w {
					return fmt.Errorf("choose from the list")
				}
				*ptr(x) = append(*ptr(x), W(w))
			}
			return nil
		},
		clear: func(x *T) { *ptr(x) = nil },
		write: func(x T, _ refs) string {
			var all []string
			for _, w := range *ptr(&x) {
				all = append(all, string(w))
			}
			return strings.Join(all, ",")
		},
	}
}

// box prints a number for a box, exact to a ten-thousandth.
func box(x float64) string { return number(x, 4) }
