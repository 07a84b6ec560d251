package demo

import (
	"time"

	"duskboard/internal/kit"
)

// inch is an inch in millimetres.
const inch = 25.4

// instruments are nine instruments of every kind, each with only what its
// owner would know; the rest is filled from the defaults of package kit.
func instruments(today time.Time) []kit.Instrument {
	inspected := today.AddDate(0, -1, 0)
	list := []kit.Instrument{
		{
			Base:   kit.Base{Name: "The Barrel", Notes: "Slides apart for the car; two people lift the base."},
			Design: kit.Newtonian, Aperture: 254, FocalLength: 1200, Obstruction: 0.25, Fan: true,
			Focuser: kit.Barrel2, Mount: kit.RockerBox, Storage: kit.Shed, Stand: "3, by the gate",
		},
		{
			Base:   kit.Base{Name: "Stovepipe"},
			Design: kit.SchmidtCassegrain, Aperture: 8 * inch, FocalLength: 80 * inch, Obstruction: 0.34,
			Focuser: kit.Barrel2, Mount: kit.AltAzGoTo, Tracking: true, GoTo: true, DewShield: 1.5, Storage: kit.House, Stand: "5",
		},
		{
			Base:   kit.Base{Name: "Long Tom", Notes: "Heavy: the tube needs two people."},
			Design: kit.Achromat, Aperture: 150, FocalLength: 1200, Focuser: kit.Barrel2,
			Mount: kit.GermanEquatorial, Tracking: true, Storage: kit.Shed, Stand: "1",
			SolarFilter: kit.SolarFilter{FullAperture: true, Certified: true, Fitted: true, Inspected: inspected},
		},
		{
			Base:   kit.Base{Name: "Sparrow"},
			Design: kit.Apochromat, Aperture: 80, FocalLength: 480, Focuser: kit.Barrel2,
			Mount: kit.AltAzHand, Storage: kit.House, Stand: "2, beside the path",
		},
		{
			Base:   kit.Base{Name: "Pepperpot", Notes: "Needs two hours outside."},
			Design: kit.MaksutovCassegrain, Aperture: 127, FocalLength: 1500, Focuser: kit.Barrel125,
			Mount: kit.AltAzGoTo, Tracking: true, GoTo: true, Storage: kit.House, Stand: "4",
		},
		{
			Base:   kit.Base{Name: "Rain Barrel", Notes: "Ladder only with a helper holding it."},
			Design: kit.Newtonian, Aperture: 400, FocalLength: 1800, Obstruction: 0.2, Fan: true,
			Focuser: kit.Barrel2, Mount: kit.RockerBox, Storage: kit.Car, Stand: "8, at the back",
		},
		{
			Base:   kit.Base{Name: "Bucket", Notes: "Children's favourite: the eyepiece stays low."},
			Design: kit.Newtonian, Aperture: 150, FocalLength: 1200, Focuser: kit.Barrel125,
			Mount: kit.RockerBox, Storage: kit.Shed, Stand: "6",
		},
		{
			Base:   kit.Base{Name: "Churn"},
			Design: kit.OtherCassegrain, Aperture: 180, FocalLength: 2160, Obstruction: 0.32, Focuser: kit.Barrel2,
			Mount: kit.ForkWedge, Tracking: true, Storage: kit.Shed, Stand: "7",
		},
		{
			Base:   kit.Base{Name: "Two Eyes"},
			Design: kit.Binoculars, Aperture: 70, Power: 15, FixedField: 4.4, Focuser: kit.Fixed,
			Mount: kit.Parallelogram, Storage: kit.House, Stand: "9, with the deck chair",
		},
	}
	for n := range list {
		// Nobody timed the setting up, weighed the drive's appetite or wondered
		// about aligning: defaults.
		list[n].Assumed = []string{"MountPower", "NeedsCollimation", "SetupMinutes"}
		if list[n].DewShield == 0 {
			list[n].Assumed = append([]string{"DewShield"}, list[n].Assumed...)
		}
	}
	return list
}

// eyepieces are fourteen eyepieces; with the amplifiers, diagonals and
// filters the club has twenty-odd accessories. There is only one wide 2-inch
// eyepiece, so that two instruments want it at once.
func eyepieces() []kit.Eyepiece {
	e := func(name string, f, afov, stop float64, b kit.Barrel, relief float64, c kit.EyepieceClass, count int) kit.Eyepiece {
		return kit.Eyepiece{Base: kit.Base{Name: name, Count: count}, FocalLength: f, ApparentField: afov, FieldStop: stop, Barrel: b, EyeRelief: relief, Class: c}
	}
	return []kit.Eyepiece{
		e("Big Window", 40, 65, 46, kit.Barrel2, 28, kit.ClassWide, 1),
		e("30 wide", 30, 80, 40, kit.Barrel2, 21, kit.ClassCorrected, 1),
		e("26 wide", 26, 70, 31, kit.Barrel2, 20, kit.ClassWide, 1),
		e("20 wide", 20, 68, 23, kit.Barrel125, 17, kit.ClassCorrected, 1),
		e("32 standard", 32, 50, 27, kit.Barrel125, 22, kit.ClassPlossl, 2),
		e("25 standard", 25, 50, 21.2, kit.Barrel125, 17, kit.ClassPlossl, 3),
		e("24 wide", 24, 66, 27, kit.Barrel125, 17, kit.ClassCorrected, 1),
		e("18 long relief", 18, 60, 18, kit.Barrel125, 20, kit.ClassCorrected, 1),
		e("15 standard", 15, 52, 0, kit.Barrel125, 13, kit.ClassPlossl, 2),
		e("12 long relief", 12, 60, 12.2, kit.Barrel125, 20, kit.ClassCorrected, 2),
		e("10 standard", 10, 50, 0, kit.Barrel125, 7, kit.ClassPlossl, 2),
		e("8 long relief", 8, 60, 8.3, kit.Barrel125, 20, kit.ClassCorrected, 1),
		e("7 wide", 7, 82, 9.7, kit.Barrel125, 13, kit.ClassCorrected, 1),
		e("5 long relief", 5, 60, 5.1, kit.Barrel125, 20, kit.ClassCorrected, 1),
	}
}

func amplifiers() []kit.Amplifier {
	return []kit.Amplifier{
		{Base: kit.Base{Name: "Barlow 2x", Count: 2}, Kind: kit.Barlow, Factor: 2, Barrel: kit.Barrel125},
		{Base: kit.Base{Name: "Reducer 0.63x", Count: 1}, Kind: kit.Reducer, Factor: 0.63, Barrel: kit.Barrel2, OnlyFor: []kit.Design{kit.SchmidtCassegrain}, BackFocus: 105},
		{Base: kit.Base{Name: "Coma corrector", Count: 1}, Kind: kit.Corrector, Factor: 1.1, Barrel: kit.Barrel2, OnlyFor: []kit.Design{kit.Newtonian}},
	}
}

func diagonals() []kit.Diagonal {
	return []kit.Diagonal{
		{Base: kit.Base{Name: "2-inch mirror diagonal", Count: 3}, Kind: kit.Mirror90, Barrel: kit.Barrel2},
		{Base: kit.Base{Name: "1.25-inch mirror diagonal", Count: 2}, Kind: kit.Mirror90, Barrel: kit.Barrel125},
		{Base: kit.Base{Name: "Erecting prism 45 degrees", Count: 1}, Kind: kit.Amici45, Barrel: kit.Barrel125},
	}
}

func filters() []kit.Filter {
	return []kit.Filter{
		{Base: kit.Base{Name: "Moon filter", Count: 2}, Kind: kit.NeutralFilter, Barrel: kit.Barrel125, Transmission: 0.18},
		{Base: kit.Base{Name: "Nebula filter", Count: 1}, Kind: kit.NebulaFilter, Barrel: kit.Barrel2, Transmission: 0.92},
	}
}

func steps() []kit.Steps {
	return []kit.Steps{
		{Base: kit.Base{Name: "Two-step stool", Count: 2}, Kind: kit.RailStool, Height: 0.44},
		{Base: kit.Base{Name: "Observing chair", Count: 1}, Kind: kit.Chair, Height: 0.6},
		{Base: kit.Base{Name: "Platform ladder", Count: 1}, Kind: kit.Ladder, Height: 0.9},
	}
}

func dewGear() []kit.DewGear {
	return []kit.DewGear{
		{Base: kit.Base{Name: "Heater strip, 8 inch", Count: 1}, Kind: kit.HeaterStrip, MinDiameter: 180, MaxDiameter: 230, Power: 8},
		{Base: kit.Base{Name: "Heater strip, finder", Count: 3}, Kind: kit.HeaterStrip, MinDiameter: 30, MaxDiameter: 70, Power: 1.5},
		{Base: kit.Base{Name: "Roll-up shield, 5 inch", Count: 1}, Kind: kit.Shield, MinDiameter: 120, MaxDiameter: 150, Length: 180},
	}
}

func batteries() []kit.Battery {
	return []kit.Battery{
		{Base: kit.Base{Name: "Big battery", Count: 1}, Kind: kit.LiFePO4, Capacity: 20, Voltage: 12.8},
		{Base: kit.Base{Name: "Grey battery", Count: 2}, Kind: kit.LeadAcid, Capacity: 17, Voltage: 12, Aged: true},
		{Base: kit.Base{Name: "Small battery", Count: 2}, Kind: kit.LeadAcid, Capacity: 7, Voltage: 12, Aged: true},
	}
}

func finders() []kit.Finder {
	return []kit.Finder{
		{Base: kit.Base{Name: "Dot finder", Count: 4}, Kind: kit.UnitPower, Power: 1, Field: 15},
		{Base: kit.Base{Name: "8x50 right-angle finder", Count: 2}, Kind: kit.CorrectAngleFinder, Aperture: 50, Power: 8, Field: 5.5},
		{Base: kit.Base{Name: "6x30 finder", Count: 2}, Kind: kit.StraightFinder, Aperture: 30, Power: 6, Field: 7},
	}
}
