package chart

// DrawCode draws a square code from its modules, dark ones true, with the
// quiet zone that they bring along. Runs of dark modules in a row are one
// rectangle. The code is black on white in every theme: a reader needs the
// contrast.
func DrawCode(id string, modules [][]bool, size float64, title, desc string) SVG {
	var c canvas
	c.sheet(id, "chart code", size, size, title, desc)
	if len(modules) == 0 {
		return c.finish()
	}
	unit := size / float64(len(modules))
	c.void("rect", a("class", "code-ground"), a("x", 0), a("y", 0), a("width", size), a("height", size))
	for y, row := range modules {
		for x := 0; x < len(row); x++ {
			if !row[x] {
				continue
			}
			end := x
			for end < len(row) && row[end] {
				end++
			}
			c.void("rect", a("class", "code-dark"), a("x", float64(x)*unit), a("y", float64(y)*unit), a("width", float64(end-x)*unit), a("height", unit), a("shape-rendering", "crispEdges"))
			x = end
		}
	}
	return c.finish()
}
