package web

import (
	"duskboard/internal/kit"
)

// eyepieceGear describes the form of an eyepiece.
func eyepieceGear(s KitStore) gear[kit.Eyepiece] {
	type X = kit.Eyepiece
	base := func(x *X) *kit.Base { return &x.Base }
	groups := []group[X]{
		{title: "What is printed on it", quick: true, entries: []entry[X]{
			must("Say the focal length in mm, as printed on the eyepiece.", lengthEntry("FocalLength", "Focal length", "mm", func(x *X) *float64 { return &x.FocalLength })),
			numberEntry("ApparentField", "", "degrees", func(x *X) *float64 { return &x.ApparentField }),
			wordEntry("Barrel", "", barrelWords, func(x *X) *kit.Barrel { return &x.Barrel }),
			nameEntry(base, "25 mm eyepiece"),
			baseEntries(base)[1],
		}},
		{title: "Optics", entries: []entry[X]{
			hint("If the maker's sheet gives it. Leave empty when unknown: the apparent field serves.", lengthEntry("FieldStop", "Field stop", "mm", func(x *X) *float64 { return &x.FieldStop })),
			lengthEntry("EyeRelief", "", "mm", func(x *X) *float64 { return &x.EyeRelief }),
			numberEntry("Weight", "", "g", func(x *X) *float64 { return &x.Weight }),
			wordEntry("Class", "", classWords, func(x *X) *kit.EyepieceClass { return &x.Class }),
		}},
		{title: "The rest", entries: without("Count", baseEntries(base))},
	}
	return gear[X]{
		path: "eyepieces", one: "eyepiece", many: "Eyepieces",
		title:  func(x X) string { return number(x.FocalLength, 1) + " mm eyepiece" },
		groups: assume(groups, kit.EyepieceFields), assumable: kit.EyepieceFields, base: base,
		check: X.Check, fill: X.Fill, load: s.Eyepiece, save: s.SaveEyepiece,
	}
}

// amplifierGear describes the form of a Barlow lens, reducer or corrector.
func amplifierGear(s KitStore) gear[kit.Amplifier] {
	type X = kit.Amplifier
	base := func(x *X) *kit.Base { return &x.Base }
	groups := []group[X]{
		{title: "What it does", quick: true, entries: []entry[X]{
			must("Choose one from the list.", wordEntry("Kind", "Kind", amplifierWords, func(x *X) *kit.AmplifierKind { return &x.Kind })),
			hint("2 for a Barlow lens that doubles, 0.63 for a reducer, about 1 for a corrector.", numberEntry("Factor", "", "times", func(x *X) *float64 { return &x.Factor })),
			wordEntry("Barrel", "", barrelWords, func(x *X) *kit.Barrel { return &x.Barrel }),
			nameEntry(base, "2 times Barlow lens"),
		}},
		{title: "What it fits", entries: []entry[X]{
			hint("None ticked: the usual of its kind. All ticked: any telescope.", listEntry("OnlyFor", "Made for", designWords, func(x *X) *[]kit.Design { return &x.OnlyFor })),
			lengthEntry("BackFocus", "", "mm", func(x *X) *float64 { return &x.BackFocus }),
		}},
		{title: "The rest", entries: baseEntries(base)},
	}
	return gear[X]{
		path: "amplifiers", one: "Barlow lens, reducer or corrector", many: "Barlow lenses, reducers, correctors",
		title:  func(x X) string { return amplifierTitle(x) },
		groups: assume(groups, kit.AmplifierFields), assumable: kit.AmplifierFields, base: base,
		check: X.Check, fill: X.Fill, load: s.Amplifier, save: s.SaveAmplifier,
	}
}

func amplifierTitle(x kit.Amplifier) string {
	what := wordFor(amplifierWords, x.Kind)
	if x.Kind != kit.Barlow {
		what = lowerFirst(what)
	}
	if x.Factor > 0 && x.Kind != kit.Corrector {
		return number(x.Factor, 2) + " times " + what
	}
	return first(what)
}

// without leaves out the entry of a name, where it stands elsewhere in the form.
func without[T any](name string, all []entry[T]) []entry[T] {
	var rest []entry[T]
	for _, e := range all {
		if e.name != name {
			rest = append(rest, e)
		}
	}
	return rest
}
