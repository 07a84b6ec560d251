// Package guide is the user's guide: one Markdown file for each task (en/*.md),
// in the order of the work (order.go). It turns them into HTML (render.go), into
// one long document (whole.go) and into sentences that can be searched
// (search.go).
//
// A file begins with "# " and the title, then one paragraph that says in a line
// what the page is for. After that come steps as they are on the program's
// pages: words in **bold** are the words of a button, field or page exactly as
// they stand there, and a test looks for each of them. Links go to other pages
// of the guide ("/guide/line-up") or of the program ("/kit"). Raw HTML is not
// rendered.
//
// The package reads nothing but its own files: no clock, no store, no request.
package guide
