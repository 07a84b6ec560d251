package chart

import (
	"fmt"
	"strings"
)

// Boxes to tick, pt: the side of one, and from one to the next.
const (
	boxSide = 12.0
	boxStep = 15.0
)

// BoxRows is how many rows n boxes take in a width, pt.
func BoxRows(n int, width float64) int {
	per := max(int((width+boxStep-boxSide)/boxStep), 1)
	return (n + per - 1) / per
}

// DrawBoxes draws n boxes to tick in as many rows as the width needs, as one
// path: forty elements for it would be a fifth of a card.
func DrawBoxes(id string, n int, width float64, title string) SVG {
	var c canvas
	per := max(int((width+boxStep-boxSide)/boxStep), 1)
	rows := BoxRows(n, width)
	c.sheet(id, "chart boxes", float64(per)*boxStep, float64(rows)*boxStep, title, fmt.Sprint(n))
	var d strings.Builder
	for i := range n {
		fmt.Fprintf(&d, "M%s %sh12v12h-12z", num(float64(i%per)*boxStep+0.5), num(float64(i/per)*boxStep+0.5))
	}
	c.void("path", a("class", "box-edge"), a("d", d.String()))
	return c.finish()
}
