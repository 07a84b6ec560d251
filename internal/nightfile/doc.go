// Package nightfile reads and writes a whole night as one JSON document, the
// format "duskboard-night/1": a night with its site, kit, crew, targets,
// weather, showings and duties. It serves export and import in the browser,
// the lineup command, and the reference nights under testdata/nights.
//
// What flows in: bytes. What flows out: a night.Plan, or the faults of the
// file, each with its path. The schema ([Schema]) is the description of the
// format; a field that it does not know is refused with its path, so that
// nothing is lost silently. Lengths and angles are in the units of package
// kit; instants are RFC 3339, durations are minutes.
package nightfile
