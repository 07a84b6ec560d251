package web

import (
	"fmt"
	"strings"
	"time"

	"duskboard/internal/kit"
)

type inst = kit.Instrument

// instrumentGear describes the form of an instrument: four questions in sight,
// the rest with its defaults in the details.
func instrumentGear(s KitStore) gear[inst] {
	base := func(i *inst) *kit.Base { return &i.Base }
	groups := []group[inst]{
		{title: "What it is", hint: "Design, aperture, focal length and mount are enough.", quick: true, entries: []entry[inst]{
			must("Choose a design; “something else” is allowed.", wordEntry("Design", "Optical design", designWords, func(i *inst) *kit.Design { return &i.Design })),
			must("Say how wide the main lens or mirror is, as 203, 8 in or 8″.", wide(hint("The width of the main lens or mirror: 203, 8 in or 8-inch.", bothEntry("Aperture", "Aperture", func(i *inst) *float64 { return &i.Aperture })))),
			focalEntry(),
			only(binoculars, "only-binoculars", wide(hint("The first number of 10×50. The aperture is the second.", numberEntry("Power", "Power", "times", func(i *inst) *float64 { return &i.Power })))),
			wordEntry("Mount", "Mount", mountWords, func(i *inst) *kit.Mount { return &i.Mount }),
			nameEntry(base, "8-inch Newtonian"),
		}},
		{title: "Optics", entries: []entry[inst]{
			only(telescope, "only-telescope", numberEntry("Obstruction", "", "", func(i *inst) *float64 { return &i.Obstruction })),
			wordEntry("Focuser", "", focuserWords, func(i *inst) *kit.Barrel { return &i.Focuser }),
			only(telescope, "only-telescope", lengthEntry("MaxFieldStop", "", "mm", func(i *inst) *float64 { return &i.MaxFieldStop })),
			only(telescope, "only-telescope", lengthEntry("BackFocus", "", "mm", func(i *inst) *float64 { return &i.BackFocus })),
			only(binoculars, "only-binoculars", numberEntry("FixedField", "", "degrees", func(i *inst) *float64 { return &i.FixedField })),
			usualEntry("NeedsCollimation", "Optics aligned before each use", func(i *inst) *bool { return &i.NeedsCollimation }),
		}},
		{title: "Tube and glass", hint: "How fast it cools and how it takes dew.", entries: []entry[inst]{
			lengthEntry("Thickness", "", "mm", func(i *inst) *float64 { return &i.Thickness }),
			wordEntry("Glass", "", glassWords, func(i *inst) *kit.Glass { return &i.Glass }),
			usualEntry("ClosedTube", "", func(i *inst) *bool { return &i.ClosedTube }),
			lengthEntry("TubeLength", "", "m", func(i *inst) *float64 { return &i.TubeLength }),
			numberEntry("DewShield", "Length of the dew shield", "times the aperture", func(i *inst) *float64 { return &i.DewShield }),
			hint("Leave empty when there is none.", numberEntry("Heater", "Heater on the front glass", "W", func(i *inst) *float64 { return &i.Heater })),
			wordEntry("Storage", "Where it waits before the night", storageWords, func(i *inst) *kit.Storage { return &i.Storage }),
			hint("Only if you have measured how it cools: the time after which a third of the difference is left.", numberEntry("TimeConstant", "Measured cooling time", "hours", func(i *inst) *float64 { return &i.TimeConstant })),
			boolEntry("TimeConstantFan", "Measured with the fan on", func(i *inst) *bool { return &i.TimeConstantFan }),
			boolEntry("Fan", "It has a fan", func(i *inst) *bool { return &i.Fan }),
		}},
		{title: "Mount", entries: []entry[inst]{
			usualEntry("Tracking", "", func(i *inst) *bool { return &i.Tracking }),
			usualEntry("GoTo", "Finds targets by itself (go-to)", func(i *inst) *bool { return &i.GoTo }),
			only(german, "only-german", numberEntry("MeridianOverrun", "", "minutes", func(i *inst) *float64 { return &i.MeridianOverrun })),
			numberEntry("MinAltitude", "", "degrees", func(i *inst) *float64 { return &i.MinAltitude }),
			numberEntry("MaxAltitude", "", "degrees", func(i *inst) *float64 { return &i.MaxAltitude }),
			numberEntry("MountPower", "", "W", func(i *inst) *float64 { return &i.MountPower }),
			numberEntry("SetupMinutes", "", "minutes", func(i *inst) *float64 { return &i.SetupMinutes }),
			numberEntry("Weight", "", "kg", func(i *inst) *float64 { return &i.Weight }),
		}},
		{title: "Where one looks in", hint: "The height of the eyepiece decides who needs a step.", entries: []entry[inst]{
			wordEntry("EyepiecePlace", "", placeWords, func(i *inst) *kit.EyepiecePlace { return &i.EyepiecePlace }),
			lengthEntry("PivotHeight", "", "m", func(i *inst) *float64 { return &i.PivotHeight }),
			lengthEntry("PivotToEye", "", "m", func(i *inst) *float64 { return &i.PivotToEye }),
			lengthEntry("EyeOffset", "", "m", func(i *inst) *float64 { return &i.EyeOffset }),
		}},
		{title: "Filter for the Sun", hint: "The Sun is never offered for an instrument without a certified filter over its whole front, fitted and inspected. Whoever operates it inspects it again before each use, and local rules come first.", entries: []entry[inst]{
			boolEntry("FullAperture", "It covers the whole front", func(i *inst) *bool { return &i.SolarFilter.FullAperture }),
			boolEntry("Certified", "It is certified for looking at the Sun", func(i *inst) *bool { return &i.SolarFilter.Certified }),
			boolEntry("Fitted", "It is fitted and cannot fall off", func(i *inst) *bool { return &i.SolarFilter.Fitted }),
			dateOfEntry("Inspected", "Last inspected", func(i *inst) *time.Time { return &i.SolarFilter.Inspected }),
		}},
		{title: "The rest", entries: append([]entry[inst]{
			textEntry("Stand", "Where it stands on the field", func(i *inst) *string { return &i.Stand }),
		}, baseEntries(base)...)},
	}
	return gear[inst]{
		path: "instruments", one: "instrument", many: "Instruments", title: instrumentTitle,
		groups: assume(groups, kit.InstrumentFields), assumable: kit.InstrumentFields, base: base,
		check: inst.Check, fill: inst.Fill, load: s.Instrument, save: s.SaveInstrument,
	}
}

func binoculars(i inst) bool { return i.Design == kit.Binoculars }
func telescope(i inst) bool  { return i.Design != kit.Binoculars }
func german(i inst) bool     { return i.Mount == kit.GermanEquatorial }

// focalEntry takes a focal length or a focal ratio; the aperture is read first.
func focalEntry() entry[inst] {
	e := lengthEntry("FocalLength", "Focal length or ratio", "mm", func(i *inst) *float64 { return &i.FocalLength })
	e.unit = "mm or f/"
	e.hint = "1200, or f/6 as it stands on the tube."
	e.mode = "" // "f/6" needs letters
	e.read = func(i *inst, raw string, _ refs) error {
		mm, err := kit.ParseFocalLength(hyphenless(raw), i.Aperture)
		i.FocalLength = roundTo(mm, 1)
		return err
	}
	return only(telescope, "only-telescope", wide(e))
}

// instrumentTitle is the name of an instrument that was given none, as people
// speak: in inches when the aperture is a whole number of them.
func instrumentTitle(i inst) string {
	what := wordFor(designWords, i.Design)
	switch {
	case i.Design == kit.Binoculars && i.Power > 0:
		return fmt.Sprintf("%s × %s binoculars", number(i.Power, 0), number(i.Aperture, 0))
	case i.Design == kit.Custom:
		what = "telescope"
	case i.Design == kit.Achromat || i.Design == kit.Apochromat:
		what = "refractor"
	case i.Design == kit.OtherCassegrain:
		what = "Cassegrain"
	case i.Design == kit.Binoculars:
		what = "binoculars"
	}
	if in := i.Aperture / 25.4; in >= 3 && roundTo(in*2, 2) == roundTo(in*2, 0) {
		return number(in, 1) + "-inch " + what
	}
	return millimetres(i.Aperture) + " " + what
}

// must makes an entry one that has to be filled, with what to say when it is not.
func must[T any](message string, e entry[T]) entry[T] {
	e.required = message
	return e
}

func hint[T any](text string, e entry[T]) entry[T] {
	e.hint = text
	return e
}

// wide gives an entry half the form, so that the main questions stand in two
// columns.
func wide[T any](e entry[T]) entry[T] {
	e.class = "mid"
	return e
}

// only makes an entry apply to some gear. class lets the style sheet hide it
// for the rest, from the choice made in the form and without a script.
func only[T any](applies func(T) bool, class string, e entry[T]) entry[T] {
	e.applies = applies
	e.class = strings.TrimSpace(e.class + " " + class)
	return e
}
