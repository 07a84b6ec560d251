package store

import (
	"database/sql"

	"duskboard/internal/kit"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

func baseOf(g db.Gear) kit.Base {
	return kit.Base{
		ID: g.ID, Version: g.Version, Name: g.Name, OwnerID: int64(g.OwnerID), Count: int(g.Count),
		Notes: g.Notes, Retired: g.Retired, Assumed: g.Assumed,
	}
}

// gearParams reads a count of 0 as 1, which is what whoever left it out meant.
func gearParams(id sql.NullInt64, kind string, b kit.Base) db.PutGearParams {
	return db.PutGearParams{
		ID: id, Kind: kind, Name: b.Name, OwnerID: column.Ref(b.OwnerID), Count: int64(max(b.Count, 1)),
		Notes: b.Notes, Retired: b.Retired, Assumed: b.Assumed,
	}
}

func eyepieceOf(r db.ListEyepiecesRow) kit.Eyepiece {
	d := r.Eyepiece
	return kit.Eyepiece{
		Base: baseOf(r.Gear), FocalLength: d.FocalLength, ApparentField: d.ApparentField,
		FieldStop: d.FieldStop, Barrel: d.Barrel, EyeRelief: d.EyeRelief, Class: d.Class, Weight: d.Weight,
	}
}

func eyepieceParams(id int64, x kit.Eyepiece) db.PutEyepieceParams {
	return db.PutEyepieceParams{
		ID: id, FocalLength: x.FocalLength, ApparentField: x.ApparentField,
		FieldStop: x.FieldStop, Barrel: x.Barrel, EyeRelief: x.EyeRelief, Class: x.Class, Weight: x.Weight,
	}
}

func amplifierOf(r db.ListAmplifiersRow) kit.Amplifier {
	d := r.Amplifier
	return kit.Amplifier{
		Base: baseOf(r.Gear), Kind: d.Kind, Factor: d.Factor,
		Barrel: d.Barrel, OnlyFor: d.OnlyFor, BackFocus: d.BackFocus,
	}
}

func amplifierParams(id int64, x kit.Amplifier) db.PutAmplifierParams {
	return db.PutAmplifierParams{
		ID: id, Kind: x.Kind, Factor: x.Factor,
		Barrel: x.Barrel, OnlyFor: x.OnlyFor, BackFocus: x.BackFocus,
	}
}

func diagonalOf(r db.ListDiagonalsRow) kit.Diagonal {
	d := r.Diagonal
	return kit.Diagonal{
		Base: baseOf(r.Gear), Kind: d.Kind, Barrel: d.Barrel,
		ForID: int64(d.ForID), MaxStop: d.MaxStop, PathUsed: d.PathUsed,
	}
}

func diagonalParams(id int64, x kit.Diagonal) db.PutDiagonalParams {
	return db.PutDiagonalParams{
		ID: id, Kind: x.Kind, Barrel: x.Barrel,
		ForID: column.Ref(x.ForID), MaxStop: x.MaxStop, PathUsed: x.PathUsed,
	}
}

func filterOf(r db.ListFiltersRow) kit.Filter {
	return kit.Filter{Base: baseOf(r.Gear), Kind: r.Filter.Kind, Barrel: r.Filter.Barrel, Transmission: r.Filter.Transmission}
}

func filterParams(id int64, x kit.Filter) db.PutFilterParams {
	return db.PutFilterParams{ID: id, Kind: x.Kind, Barrel: x.Barrel, Transmission: x.Transmission}
}

func finderOf(r db.ListFindersRow) kit.Finder {
	d := r.Finder
	return kit.Finder{
		Base: baseOf(r.Gear), Kind: d.Kind, Aperture: d.Aperture,
		Power: d.Power, Field: d.Field, ForID: int64(d.ForID),
	}
}

func finderParams(id int64, x kit.Finder) db.PutFinderParams {
	return db.PutFinderParams{
		ID: id, Kind: x.Kind, Aperture: x.Aperture,
		Power: x.Power, Field: x.Field, ForID: column.Ref(x.ForID),
	}
}

func dewGearOf(r db.ListDewGearRow) kit.DewGear {
	d := r.DewGear
	return kit.DewGear{
		Base: baseOf(r.Gear), Kind: d.Kind, MinDiameter: d.MinDiameter, MaxDiameter: d.MaxDiameter,
		Length: d.Length, Power: d.Power, ForID: int64(d.ForID),
	}
}

func dewGearParams(id int64, x kit.DewGear) db.PutDewGearParams {
	return db.PutDewGearParams{
		ID: id, Kind: x.Kind, MinDiameter: x.MinDiameter, MaxDiameter: x.MaxDiameter,
		Length: x.Length, Power: x.Power, ForID: column.Ref(x.ForID),
	}
}

func batteryOf(r db.ListBatteriesRow) kit.Battery {
	d := r.Battery
	return kit.Battery{
		Base: baseOf(r.Gear), Kind: d.Kind, Capacity: d.Capacity,
		Voltage: d.Voltage, Aged: d.Aged, ForID: int64(d.ForID),
	}
}

func batteryParams(id int64, x kit.Battery) db.PutBatteryParams {
	return db.PutBatteryParams{
		ID: id, Kind: x.Kind, Capacity: x.Capacity,
		Voltage: x.Voltage, Aged: x.Aged, ForID: column.Ref(x.ForID),
	}
}

func stepsOf(r db.ListStepsRow) kit.Steps {
	return kit.Steps{Base: baseOf(r.Gear), Kind: r.Step.Kind, Height: r.Step.Height}
}

func stepsParams(id int64, x kit.Steps) db.PutStepsParams {
	return db.PutStepsParams{ID: id, Kind: x.Kind, Height: x.Height}
}
