package chart

import (
	"fmt"
	"strconv"
	"strings"
)

// DrawCode draws a square code from its modules, dark ones true, with the
// quiet zone that they bring along. Runs of dark modules in a row are one
// rectangle, all of them one path. The code is black on white in every theme: a reader needs the
// contrast.
func DrawCode(id string, modules [][]bool, size float64, title, desc string) SVG {
	var c canvas
	c.sheet(id, "chart code", size, size, title, desc)
	if len(modules) == 0 {
		return c.finish()
	}
	unit := size / float64(len(modules))
	c.void("rect", a("class", "code-ground"), a("x", 0), a("y", 0), a("width", size), a("height", size))
	var d strings.Builder
	for y, row := range modules {
		for x := 0; x < len(row); x++ {
			if !row[x] {
				continue
			}
			end := x
			for end < len(row) && row[end] {
				end++
			}
			fmt.Fprintf(&d, "M%d %dh%dv1h-%dz", x, y, end-x, end-x)
			x = end
		}
	}
	c.void("path", a("class", "code-dark"), a("transform", "scale("+strconv.FormatFloat(unit, 'f', 5, 64)+")"), a("d", d.String()), a("shape-rendering", "crispEdges"))
	return c.finish()
}
