package store

import (
	"duskboard/internal/kit"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

func instrumentOf(r db.ListInstrumentsRow) kit.Instrument {
	d := r.Instrument
	return kit.Instrument{
		Base:   baseOf(r.Gear),
		Design: d.Design, Aperture: d.Aperture, FocalLength: d.FocalLength, Power: d.Power,
		FixedField: d.FixedField, Obstruction: d.Obstruction, Thickness: d.Thickness, Glass: d.Glass,
		ClosedTube: d.ClosedTube, Fan: d.Fan, Focuser: d.Focuser, MaxFieldStop: d.MaxFieldStop,
		BackFocus: d.BackFocus, Mount: d.Mount, Tracking: d.Tracking, GoTo: d.GoTo,
		MeridianOverrun: d.MeridianOverrun, MinAltitude: d.MinAltitude, MaxAltitude: d.MaxAltitude,
		EyepiecePlace: d.EyepiecePlace, PivotHeight: d.PivotHeight, PivotToEye: d.PivotToEye,
		EyeOffset: d.EyeOffset, SetupMinutes: d.SetupMinutes, NeedsCollimation: d.NeedsCollimation,
		Weight: d.Weight, DewShield: d.DewShield, Heater: d.Heater, MountPower: d.MountPower,
		Storage: d.Storage, TimeConstant: d.TimeConstant, TimeConstantFan: d.TimeConstantFan, Stand: d.Stand,
		TubeLength: d.TubeLength, ImageMirrored: d.ImageMirrored,
		SolarFilter: kit.SolarFilter{
			FullAperture: d.SolarFull, Certified: d.SolarCertified,
			Fitted: d.SolarFitted, Inspected: d.SolarInspectedAt.Time,
		},
	}
}

func instrumentParams(id int64, x kit.Instrument) db.PutInstrumentParams {
	return db.PutInstrumentParams{
		ID:     id,
		Design: x.Design, Aperture: x.Aperture, FocalLength: x.FocalLength, Power: x.Power,
		FixedField: x.FixedField, Obstruction: x.Obstruction, Thickness: x.Thickness, Glass: x.Glass,
		ClosedTube: x.ClosedTube, Fan: x.Fan, Focuser: x.Focuser, MaxFieldStop: x.MaxFieldStop,
		BackFocus: x.BackFocus, Mount: x.Mount, Tracking: x.Tracking, GoTo: x.GoTo,
		MeridianOverrun: x.MeridianOverrun, MinAltitude: x.MinAltitude, MaxAltitude: x.MaxAltitude,
		EyepiecePlace: x.EyepiecePlace, PivotHeight: x.PivotHeight, PivotToEye: x.PivotToEye,
		EyeOffset: x.EyeOffset, SetupMinutes: x.SetupMinutes, NeedsCollimation: x.NeedsCollimation,
		Weight: x.Weight, DewShield: x.DewShield, Heater: x.Heater, MountPower: x.MountPower,
		Storage: x.Storage, TimeConstant: x.TimeConstant, TimeConstantFan: x.TimeConstantFan, Stand: x.Stand,
		TubeLength: x.TubeLength, ImageMirrored: x.ImageMirrored,
		SolarFull: x.SolarFilter.FullAperture, SolarCertified: x.SolarFilter.Certified,
		SolarFitted: x.SolarFilter.Fitted, SolarInspectedAt: column.At(x.SolarFilter.Inspected),
	}
}
