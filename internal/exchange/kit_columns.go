package exchange

import (
	"strings"
)

// ColumnInfo explains one column of a table to whoever fills it in.
type ColumnInfo struct {
	Name    string
	Meaning string // with unit and the words that it takes
	For     string // the kinds that have it; "" is every row
	Needed  bool
}

// kitMeanings explains the columns of a kit table; a test looks that none is
// missing and none is too many.
var kitMeanings = map[string]string{
	"kind": "what the row is: " + strings.Join(kinds, ", "),
	"name": "what the club calls it; with kind, this finds the piece that a row changes",
	"type": "the kind of its kind: barlow, reducer, corrector; mirror-90, amici-90, amici-45; neutral, narrow-band, oxygen, colour; " +
		"unit-power, straight, right-angle, right-angle-roof; shield, heater-strip; lead-acid, lifepo4; stool, stool-with-rail, ladder, observing-chair",
	"for":               "name of the instrument that it stays with; empty is any",
	"count":             "how many of the same; empty is 1",
	"notes":             "free text",
	"retired":           "yes takes it off the list",
	"design":            "newtonian, achromat, apochromat, schmidt-cassegrain, maksutov-cassegrain, cassegrain, binoculars, custom",
	"aperture":          "mm; 8 in and 8\" are read as inches",
	"focallength":       "mm; f/6 is read as a focal ratio",
	"power":             "times, of binoculars and finders; W, of dew gear",
	"fixedfield":        "true field of binoculars, degrees",
	"obstruction":       "diameter of the obstruction over aperture, 0 to 0.6",
	"thickness":         "of the main mirror or front lens, mm",
	"glass":             "borosilicate, plate, crown, fused-silica, glass-ceramic",
	"closedtube":        "yes or no",
	"fan":               "yes or no",
	"focuser":           "1.25in, 2in, fixed",
	"maxfieldstop":      "widest field stop that the tube lights, mm",
	"backfocus":         "room behind the focuser, mm",
	"mount":             "rocker-box, alt-az-hand, alt-az-goto, german-equatorial, fork-wedge, tripod, parallelogram",
	"tracking":          "yes or no",
	"goto":              "yes or no",
	"meridianoverrun":   "minutes past the meridian",
	"minaltitude":       "lowest altitude the mount reaches, degrees",
	"maxaltitude":       "highest altitude the mount reaches, degrees",
	"eyepieceplace":     "side, diagonal, straight",
	"pivotheight":       "altitude axis above the ground, m",
	"pivottoeye":        "altitude axis to focuser, m",
	"eyeoffset":         "eyepiece from the optical axis, m",
	"setupminutes":      "minutes to set up",
	"needscollimation":  "aligned before every use: yes or no",
	"weight":            "heaviest single piece, kg; eyepieces in g",
	"dewshield":         "length of the shield over aperture; 0 is none",
	"heater":            "W on the front glass; 0 is none",
	"mountpower":        "W of drive and hand controller",
	"storage":           "house, shed, car",
	"timeconstant":      "measured cooling time constant, hours",
	"timeconstantfan":   "measured with the fan on: yes or no",
	"stand":             "where it stands on the field",
	"tubelength":        "m",
	"imagemirrored":     "yes or no; empty is worked out",
	"solarfullaperture": "solar filter over the whole front: yes or no",
	"solarcertified":    "solar filter certified: yes or no",
	"solarfitted":       "solar filter fitted: yes or no; inspect it before each use all the same",
	"solarinspected":    "date of its last inspection, as 2026-09-14",
	"apparentfield":     "degrees",
	"fieldstop":         "diameter, mm",
	"barrel":            "1.25in or 2in",
	"eyerelief":         "mm",
	"class":             "plossl, corrected, wide, kellner, basic",
	"factor":            "focal length is multiplied by this",
	"onlyfor":           "designs it fits, with spaces between; empty is all",
	"maxstop":           "clear opening, mm",
	"pathused":          "light path it takes, mm",
	"transmission":      "0 to 1",
	"field":             "true field, degrees",
	"mindiameter":       "smallest tube it fits, mm",
	"maxdiameter":       "largest tube it fits, mm",
	"length":            "mm",
	"capacity":          "Ah",
	"voltage":           "V",
	"aged":              "over three years old, or not known: yes or no",
	"height":            "highest tread or seat, m",
}

// KitColumns explains every column of a kit table, in the order of an export.
func KitColumns() []ColumnInfo {
	var all []ColumnInfo
	for _, c := range allColumns() {
		info := ColumnInfo{Name: c, Meaning: kitMeanings[c], Needed: c == "kind" || c == "name"}
		var of []string
		for _, k := range kinds {
			if takes(k, c) {
				of = append(of, k)
			}
		}
		if len(of) < len(kinds) && !info.Needed {
			info.For = strings.Join(of, ", ")
		}
		all = append(all, info)
	}
	return all
}

// takes reports whether a kind of gear has a column.
func takes(kind, column string) bool {
	t := gearType(kind)
	if column == "for" {
		return belongs(t)
	}
	for _, c := range columnsOf(t) {
		if heading(c.name) == column {
			return true
		}
	}
	return false
}

// KitTemplate is a table to start from: a heading with the columns that most
// clubs fill in, and an example row for a few kinds.
const KitTemplate = "\ufeffkind,name,type,for,count,design,aperture,focallength,mount,tracking,goto,focuser,apparentfield,barrel,factor,capacity,height,notes\r\n" +
	"instrument,Example Barrel,,,1,newtonian,203,1219,rocker-box,no,no,2in,,,,,,take this row out\r\n" +
	"eyepiece,Example 25,,,2,,,25,,,,,52,1.25in,,,,\r\n" +
	"amplifier,Example Barlow,barlow,,1,,,,,,,,,1.25in,2,,,\r\n" +
	"finder,Example dot,unit-power,Example Barrel,1,,,,,,,,,,,,,\r\n" +
	"battery,Example box,lifepo4,Example Barrel,1,,,,,,,,,,,17,,\r\n" +
	"steps,Example stool,stool,,1,,,,,,,,,,,,0.3,\r\n"
