package web

import (
	"duskboard/internal/kit"
	"duskboard/web/views"
)

// loose is the answer for gear that stays with no instrument.
const loose = "None: it goes with any"

func instrumentsOf(u refs) []views.Option { return u.instruments }

// diagonalGear describes the form of a diagonal.
func diagonalGear(s KitStore) gear[kit.Diagonal] {
	type X = kit.Diagonal
	base := func(x *X) *kit.Base { return &x.Base }
	groups := []group[X]{
		{title: "What it is", quick: true, entries: []entry[X]{
			hint("A plain mirror shows the image mirrored, a roof prism correct.", wordEntry("Kind", "", diagonalWords, func(x *X) *kit.DiagonalKind { return &x.Kind })),
			wordEntry("Barrel", "", barrelWords, func(x *X) *kit.Barrel { return &x.Barrel }),
			refEntry("ForID", "Stays with", loose, instrumentsOf, func(x *X) *int64 { return &x.ForID }),
			nameEntry(base, "1.25 inch diagonal"),
		}},
		{title: "Measures", entries: []entry[X]{
			lengthEntry("MaxStop", "", "mm", func(x *X) *float64 { return &x.MaxStop }),
			lengthEntry("PathUsed", "", "mm", func(x *X) *float64 { return &x.PathUsed }),
		}},
		{title: "The rest", entries: baseEntries(base)},
	}
	return gear[X]{
		path: "diagonals", one: "diagonal", many: "Diagonals",
		title:  func(x X) string { return barrelled(x.Barrel, "diagonal") },
		groups: assume(groups, kit.DiagonalFields), assumable: kit.DiagonalFields, base: base,
		check: X.Check, fill: X.Fill, load: s.Diagonal, save: s.SaveDiagonal,
	}
}

// filterGear describes the form of a filter for an eyepiece.
func filterGear(s KitStore) gear[kit.Filter] {
	type X = kit.Filter
	base := func(x *X) *kit.Base { return &x.Base }
	groups := []group[X]{
		{title: "What it is", hint: "A filter for an eyepiece never makes the Sun safe. The filter over the front of a telescope belongs to the instrument.", quick: true, entries: []entry[X]{
			must("Choose one from the list.", wordEntry("Kind", "Kind", filterWords, func(x *X) *kit.FilterKind { return &x.Kind })),
			wordEntry("Barrel", "", barrelWords, func(x *X) *kit.Barrel { return &x.Barrel }),
			hint("0.2 lets a fifth through.", numberEntry("Transmission", "", "of the light", func(x *X) *float64 { return &x.Transmission })),
			nameEntry(base, "2 inch filter, narrow band"),
		}},
		{title: "The rest", entries: baseEntries(base)},
	}
	return gear[X]{
		path: "filters", one: "filter", many: "Filters",
		title:  func(x X) string { return barrelled(x.Barrel, "filter: ") + lowerFirst(wordFor(filterWords, x.Kind)) },
		groups: assume(groups, kit.FilterFields), assumable: kit.FilterFields, base: base,
		check: X.Check, fill: X.Fill, load: s.Filter, save: s.SaveFilter,
	}
}

// finderGear describes the form of a finder.
func finderGear(s KitStore) gear[kit.Finder] {
	type X = kit.Finder
	base := func(x *X) *kit.Base { return &x.Base }
	groups := []group[X]{
		{title: "What it is", quick: true, entries: []entry[X]{
			wordEntry("Kind", "", finderWords, func(x *X) *kit.FinderKind { return &x.Kind }),
			refEntry("ForID", "Sits on", "None: it is loose", instrumentsOf, func(x *X) *int64 { return &x.ForID }),
			numberEntry("Power", "", "times", func(x *X) *float64 { return &x.Power }),
			lengthEntry("Aperture", "", "mm", func(x *X) *float64 { return &x.Aperture }),
			numberEntry("Field", "", "degrees", func(x *X) *float64 { return &x.Field }),
			nameEntry(base, "8 × 50 finder"),
		}},
		{title: "The rest", entries: baseEntries(base)},
	}
	return gear[X]{
		path: "finders", one: "finder", many: "Finders",
		title: func(x X) string {
			if x.Power > 1 && x.Aperture > 0 {
				return number(x.Power, 0) + " × " + number(x.Aperture, 0) + " finder"
			}
			return "Finder"
		},
		groups: assume(groups, kit.FinderFields), assumable: kit.FinderFields, base: base,
		check: X.Check, fill: X.Fill, load: s.Finder, save: s.SaveFinder,
	}
}

// barrelled is "2 inch diagonal", or only the thing when the barrel is unknown.
func barrelled(b kit.Barrel, what string) string {
	if b == "" {
		return first(what)
	}
	return wordFor(barrelWords, b) + " " + what
}
