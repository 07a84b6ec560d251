// Package catalog knows what can be shown at a public night: the Sun, the Moon
// and the planets, deep-sky objects, double and coloured stars and star
// patterns of both skies, with what an operator says about each; the stars and
// constellation lines for charts; and the club's own targets.
//
// # For callers
//
// Default gives the embedded catalogue in English, In the same in another
// language, Speaking in one that the club has added. ByID, All, Search and
// Lookup find targets, Nearest suggests names for a misspelling, ObjectOf turns
// a target into something package sky can follow.
// Stars, StarsNear, Lines and Constellations serve the charts.
// ParseCoordinates and ParseCSV read the club's own targets; With adds them.
// Everything returned is a value or shared read-only data: do not change the
// slices inside.
//
// # The tables
//
// data/*.psv are text tables with a pipe between columns and a comment on top
// that explains them; they are the project's own and are meant to be edited.
// places.psv, starplaces.psv, guides.psv, stars.bin.gz, lines.json and
// constellations.json are derived (derive/derive.mjs) from d3-celestial 0.7.35,
// whose licence lies beside the script (Notice): deep-sky places, Hipparcos
// places and colours of stars, constellation lines and names. Magnitudes, sizes, angles, separations and
// distances are from memory of the common handbooks, checked in the tests
// against what else could be had; each Target.Source says so.
//
// # Brightness, delight, distance
//
// Mean surface brightness is m + 2.5 log10(a b) + 8.63, for an ellipse with
// axes a and b in arcminutes. Delight is explained at delightOf, the words of
// a distance at distanceWords.
//
// # Words and languages
//
// A language is a folder with two files, see words/en:
//
//	phrases.json   what is said about any target of a kind, and the small words
//	targets.json   what is said about one target, written by hand
//
// phrases.json holds "code" and "name" of the language; "decimal" and
// "thousands" signs; "constellation" ("name" for the Latin names or "de" ...,
// a key of data/constellations.json); the words of "kinds", "directions"
// (eight, from north through east), "colours", "sizes", "distance", "light"
// and "find"; and "kind", the templates. For every kind "line" and "lookFor"
// are lists of which one is taken, always the same for the same target;
// "facts" are taken in order until three are not empty; of "expect" the first
// that is not empty. A template is text of Go's text/template over the fields
// of type phrase (phrase.go); one that comes out empty is passed over, so
// {{if .Wide}}...{{end}} leaves out what is not known.
//
// targets.json maps the id of a target to "name", "line", "facts", "lookFor",
// "expect" and "find"; what is left out comes from the templates. A club that
// adds a language copies words/en, translates, and passes the folder to
// ReadLanguage. The limits of length (a card has little room) are constants in
// words.go and are checked when a language is read.
//
// # Where it stops
//
// Places are J2000; what is above the horizon and when is package sky's work,
// whether a guest can see it is package vision's.
package catalog
