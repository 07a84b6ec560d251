// Package chart draws: altitude curves, the line-up's board, sky maps, finder
// charts and eyepiece views, as SVG made on the server, the same on screen and
// on paper.
//
// What flows in: plain values (times, altitudes, names, angles). What flows
// out: [SVG], markup in which every text is escaped, that carries a title and
// a description for screen readers, and that uses presentation attributes and
// classes only: the colours come from the page's style sheet, so that paper
// and lamp share one drawing and a strict content policy holds.
//
// The package knows no store and no page, and draws what it is told.
package chart
