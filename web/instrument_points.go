package web

import (
	"duskboard/internal/kit"
	"duskboard/internal/optics"
)

// strengths are computed, each with the number behind it.
func (c sheetWriter) strengths(i kit.Instrument, trains []optics.Train) []string {
	var out []string
	say := func(key string, args ...any) { out = append(out, c.w.say("sheet.strong."+key, args...)) }
	if i.Aperture >= 180 {
		say("light", c.whole(i.Aperture))
	}
	if w := widest(trains); w >= 2 {
		say("wide", c.w.number(w, 1))
	}
	if i.Obstruction == 0 && i.Design != kit.Binoculars {
		say("clear")
	}
	if ratio := i.FocalLength / max(i.Aperture, 1); ratio >= 9 {
		say("long", c.w.number(ratio, 1))
	}
	if i.Tracking {
		say("tracking")
	}
	if i.GoTo {
		say("goto")
	}
	if h := optics.HeightsOver(i, 20, 70); h.High <= 1.2 {
		say("low", c.w.number(h.High, 2))
	}
	if i.Weight > 0 && i.Weight <= 8 {
		say("carry", c.w.number(i.Weight, 1))
	}
	if i.Design == kit.Binoculars {
		say("both")
	}
	return out[:min(len(out), 5)] // a page has room for five
}

func (c sheetWriter) weakPoints(i kit.Instrument) []string {
	var out []string
	say := func(key string, args ...any) { out = append(out, c.w.say("sheet.weak."+key, args...)) }
	ratio := i.FocalLength / max(i.Aperture, 1)
	if i.Design == kit.Newtonian && ratio < 5.5 {
		say("fast", c.w.number(ratio, 1), c.w.number(optics.ComaFreeRadius(ratio), 1))
	}
	switch optics.ColourOf(i).Verdict {
	case optics.Warn:
		say("violet")
	case optics.Note:
		say("violetFaint")
	}
	if i.FocalLength >= 1500 {
		say("narrow", c.millimetres(i.FocalLength))
	}
	if h := optics.HeightsOver(i, 20, 75); h.High > 1.6 {
		say("high", c.w.number(h.High, 2))
	}
	if !i.Tracking {
		say("hand")
	}
	if i.Obstruction >= 0.3 {
		say("secondary", c.whole(i.Obstruction*100))
	}
	if i.Weight >= 18 {
		say("heavy", c.w.number(i.Weight, 1))
	}
	return out
}

func (c sheetWriter) care(i kit.Instrument) []string {
	var out []string
	say := func(key string) { out = append(out, c.w.say("sheet.care."+key)) }
	switch {
	case i.Fan:
		say("fan")
	case i.ClosedTube:
		say("closed")
	default:
		say("open")
	}
	switch i.Design {
	case kit.SchmidtCassegrain, kit.MaksutovCassegrain:
		say("corrector")
	case kit.Newtonian, kit.OtherCassegrain:
		say("mirror")
	default:
		say("lens")
	}
	if i.NeedsCollimation {
		say("align")
	}
	return out
}

func (c sheetWriter) checkAtHome(i kit.Instrument) []string {
	var out []string
	say := func(keys ...string) {
		for _, key := range keys {
			out = append(out, c.w.say("sheet.home."+key))
		}
	}
	say("caps", "eyepieces", "finder")
	if i.NeedsCollimation {
		say("align")
	}
	if i.GoTo || i.Tracking || i.MountPower > 0 {
		say("battery")
	}
	if i.SolarFilter.Fitted {
		say("solar")
	}
	return out
}
