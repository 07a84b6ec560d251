// Package nightfile reads and writes a whole night as one JSON document, the
// format "duskboard-night/1": a night with its site, kit, crew, targets,
// weather, showings, duties and places on the field. It serves export and import
// in the browser,
// the lineup command, and the reference nights under testdata/nights.
//
// What flows in: bytes. What flows out: a night.Plan, or the faults of the
// file, each with its path. The schema ([Schema]) is the description of the
// format; a field that it does not know is refused with its path, so that
// nothing is lost silently. Fields are added under duskboard-night/1 and never
// removed or given another meaning: an old file is read as ever, and a program
// older than a file names the fields that it lacks. Lengths and angles are in the units of package
// kit; instants are RFC 3339, durations are minutes.
package nightfile
