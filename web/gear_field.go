package web

import (
	"duskboard/internal/kit"
)

// dewGear describes the form of a shield or a heater strip.
func dewGear(s KitStore) gear[kit.DewGear] {
	type X = kit.DewGear
	base := func(x *X) *kit.Base { return &x.Base }
	shield := func(x X) bool { return x.Kind == kit.Shield }
	strip := func(x X) bool { return x.Kind == kit.HeaterStrip }
	groups := []group[X]{
		{title: "What it is", quick: true, entries: []entry[X]{
			must("Choose one from the list.", wordEntry("Kind", "Kind", dewWords, func(x *X) *kit.DewGearKind { return &x.Kind })),
			refEntry("ForID", "Stays with", loose, instrumentsOf, func(x *X) *int64 { return &x.ForID }),
			lengthEntry("MinDiameter", "Smallest tube it fits", "mm", func(x *X) *float64 { return &x.MinDiameter }),
			lengthEntry("MaxDiameter", "Largest tube it fits", "mm", func(x *X) *float64 { return &x.MaxDiameter }),
			only(shield, "only-shield", lengthEntry("Length", "", "mm", func(x *X) *float64 { return &x.Length })),
			only(strip, "only-strip", numberEntry("Power", "", "W", func(x *X) *float64 { return &x.Power })),
			nameEntry(base, "Dew shield"),
		}},
		{title: "The rest", entries: baseEntries(base)},
	}
	return gear[X]{
		path: "dew-gear", one: "dew gear", many: "Dew gear",
		title:  func(x X) string { return wordFor(dewWords, x.Kind) },
		groups: assume(groups, kit.DewGearFields), assumable: kit.DewGearFields, base: base,
		check: X.Check, fill: X.Fill, load: s.DewGear, save: s.SaveDewGear,
	}
}

// batteryGear describes the form of a battery.
func batteryGear(s KitStore) gear[kit.Battery] {
	type X = kit.Battery
	base := func(x *X) *kit.Base { return &x.Base }
	groups := []group[X]{
		{title: "What is printed on it", quick: true, entries: []entry[X]{
			must("Say the capacity in ampere-hours, as printed on the battery.", numberEntry("Capacity", "Capacity", "Ah", func(x *X) *float64 { return &x.Capacity })),
			wordEntry("Kind", "", batteryWords, func(x *X) *kit.BatteryKind { return &x.Kind }),
			numberEntry("Voltage", "", "V", func(x *X) *float64 { return &x.Voltage }),
			usualEntry("Aged", "Over three years old, or age unknown", func(x *X) *bool { return &x.Aged }),
			refEntry("ForID", "Feeds", "None: it feeds any", instrumentsOf, func(x *X) *int64 { return &x.ForID }),
			nameEntry(base, "17 Ah battery"),
		}},
		{title: "The rest", entries: baseEntries(base)},
	}
	return gear[X]{
		path: "batteries", one: "battery", many: "Batteries",
		title:  func(x X) string { return number(x.Capacity, 1) + " Ah battery" },
		groups: assume(groups, kit.BatteryFields), assumable: kit.BatteryFields, base: base,
		check: X.Check, fill: X.Fill, load: s.Battery, save: s.SaveBattery,
	}
}

// stepsGear describes the form of a stool, ladder or chair.
func stepsGear(s KitStore) gear[kit.Steps] {
	type X = kit.Steps
	base := func(x *X) *kit.Base { return &x.Base }
	groups := []group[X]{
		{title: "What it is", quick: true, entries: []entry[X]{
			must("Choose one from the list.", wordEntry("Kind", "Kind", stepWords, func(x *X) *kit.StepKind { return &x.Kind })),
			hint("The step a guest stands on, or the seat.", lengthEntry("Height", "Highest tread or seat", "m", func(x *X) *float64 { return &x.Height })),
			nameEntry(base, "Step stool"),
		}},
		{title: "The rest", entries: baseEntries(base)},
	}
	return gear[X]{
		path: "steps", one: "steps", many: "Steps and chairs",
		title:  func(x X) string { return wordFor(stepWords, x.Kind) },
		groups: assume(groups, kit.StepsFields), assumable: kit.StepsFields, base: base,
		check: X.Check, fill: X.Fill, load: s.Steps, save: s.SaveSteps,
	}
}
