package web

import (
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// Words of the trade for the domain's closed lists, in the order of the forms.

var designWords = []views.Option{
	{Value: string(kit.Newtonian), Text: "Newtonian"},
	{Value: string(kit.Achromat), Text: "Refractor, achromatic"},
	{Value: string(kit.Apochromat), Text: "Refractor, apochromatic"},
	{Value: string(kit.SchmidtCassegrain), Text: "Schmidt-Cassegrain"},
	{Value: string(kit.MaksutovCassegrain), Text: "Maksutov-Cassegrain"},
	{Value: string(kit.OtherCassegrain), Text: "Other Cassegrain"},
	{Value: string(kit.Binoculars), Text: "Binoculars"},
	{Value: string(kit.Custom), Text: "Something else"},
}

var mountWords = []views.Option{
	{Value: string(kit.RockerBox), Text: "Rocker box on the ground"},
	{Value: string(kit.AltAzHand), Text: "Alt-azimuth, pushed by hand"},
	{Value: string(kit.AltAzGoTo), Text: "Alt-azimuth with go-to"},
	{Value: string(kit.GermanEquatorial), Text: "German equatorial"},
	{Value: string(kit.ForkWedge), Text: "Fork on a wedge"},
	{Value: string(kit.Tripod), Text: "Photo tripod"},
	{Value: string(kit.Parallelogram), Text: "Parallelogram arm"},
}

var barrelWords = []views.Option{
	{Value: string(kit.Barrel125), Text: "1.25 inch"},
	{Value: string(kit.Barrel2), Text: "2 inch"},
}

var focuserWords = append(append([]views.Option{}, barrelWords...), views.Option{Value: string(kit.Fixed), Text: "Fixed eyepieces"})

var glassWords = []views.Option{
	{Value: string(kit.Borosilicate), Text: "Borosilicate"},
	{Value: string(kit.PlateGlass), Text: "Plate glass"},
	{Value: string(kit.Crown), Text: "Crown glass"},
	{Value: string(kit.FusedSilica), Text: "Fused silica"},
	{Value: string(kit.GlassCeramic), Text: "Glass ceramic"},
}

var placeWords = []views.Option{
	{Value: string(kit.AtSide), Text: "At the side, near the upper end"},
	{Value: string(kit.BehindDiagonal), Text: "Behind a diagonal, at the lower end"},
	{Value: string(kit.Straight), Text: "Straight through, at the lower end"},
}

var storageWords = []views.Option{
	{Value: string(kit.House), Text: "A heated room"},
	{Value: string(kit.Shed), Text: "A shed or garage"},
	{Value: string(kit.Car), Text: "The car"},
}

var classWords = []views.Option{
	{Value: string(kit.ClassPlossl), Text: "Plössl or orthoscopic"},
	{Value: string(kit.ClassCorrected), Text: "Wide field, corrected for fast telescopes"},
	{Value: string(kit.ClassWide), Text: "Wide field, simple"},
	{Value: string(kit.ClassKellner), Text: "Kellner and other three-lens forms"},
	{Value: string(kit.ClassBasic), Text: "Huygens or Ramsden"},
}

var amplifierWords = []views.Option{
	{Value: string(kit.Barlow), Text: "Barlow lens"},
	{Value: string(kit.Reducer), Text: "Reducer"},
	{Value: string(kit.Corrector), Text: "Coma corrector"},
}

var diagonalWords = []views.Option{
	{Value: string(kit.Mirror90), Text: "Mirror or plain prism, 90°"},
	{Value: string(kit.Amici90), Text: "Roof prism, 90°"},
	{Value: string(kit.Amici45), Text: "Roof prism, 45°"},
}

var filterWords = []views.Option{
	{Value: string(kit.NeutralFilter), Text: "Neutral, for the Moon and bright planets"},
	{Value: string(kit.NebulaFilter), Text: "Narrow band, for nebulae"},
	{Value: string(kit.OxygenFilter), Text: "Oxygen lines"},
	{Value: string(kit.ColourFilter), Text: "Coloured"},
}

var finderWords = []views.Option{
	{Value: string(kit.UnitPower), Text: "Dot or ring, without magnification"},
	{Value: string(kit.StraightFinder), Text: "Straight through"},
	{Value: string(kit.RightAngleFinder), Text: "Right angle, mirrored"},
	{Value: string(kit.CorrectAngleFinder), Text: "Right angle, correct image"},
}

var dewWords = []views.Option{
	{Value: string(kit.Shield), Text: "Dew shield"},
	{Value: string(kit.HeaterStrip), Text: "Heater strip"},
}

var batteryWords = []views.Option{
	{Value: string(kit.LeadAcid), Text: "Lead-acid"},
	{Value: string(kit.LiFePO4), Text: "Lithium iron phosphate"},
}

var stepWords = []views.Option{
	{Value: string(kit.Stool), Text: "Step stool"},
	{Value: string(kit.RailStool), Text: "Step stool with a rail"},
	{Value: string(kit.Ladder), Text: "Ladder"},
	{Value: string(kit.Chair), Text: "Observing chair"},
}

var audienceWords = []views.Option{
	{Value: string(night.Families), Text: "Families"},
	{Value: string(night.School), Text: "School class"},
	{Value: string(night.Adults), Text: "Adults"},
	{Value: string(night.Beginners), Text: "Beginners' course"},
}

// wordFor returns the text of a value, or the value when it has none.
func wordFor[W ~string](words []views.Option, value W) string {
	for _, o := range words {
		if o.Value == string(value) {
			return o.Text
		}
	}
	return string(value)
}
