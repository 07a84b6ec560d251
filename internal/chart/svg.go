package chart

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"
)

// SVG is finished markup. Every text in it went through escaping here; it is
// safe to write into a page as it is.
type SVG string

// canvas collects markup. Numbers are written with two decimals at most, so
// that drawings stay small and golden tests stay readable.
type canvas struct {
	b     strings.Builder
	stack []string
	stars map[int]*strings.Builder // gathered by gather, by tenths of a pt across
}

// attr is one attribute; a list of them keeps its order, so that the same
// drawing is the same bytes.
type attr struct{ name, value string }

func a(name string, value any) attr {
	switch v := value.(type) {
	case float64:
		return attr{name, num(v)}
	case int:
		return attr{name, strconv.Itoa(v)}
	case string:
		return attr{name, v}
	default:
		return attr{name, fmt.Sprint(v)}
	}
}

// num writes a coordinate: two decimals, no trailing zeros, never NaN.
func num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

func (c *canvas) tag(name string, attrs []attr) {
	c.b.WriteByte('<')
	c.b.WriteString(name)
	for _, at := range attrs {
		if at.value == "" && at.name != "alt" {
			continue
		}
		c.b.WriteByte(' ')
		c.b.WriteString(at.name)
		c.b.WriteString(`="`)
		c.b.WriteString(html.EscapeString(at.value))
		c.b.WriteByte('"')
	}
}

// open writes a start tag; end closes the newest open one.
func (c *canvas) open(name string, attrs ...attr) {
	c.tag(name, attrs)
	c.b.WriteByte('>')
	c.stack = append(c.stack, name)
}

func (c *canvas) end() {
	last := len(c.stack) - 1
	c.b.WriteString("</" + c.stack[last] + ">")
	c.stack = c.stack[:last]
}

// void writes an element without content.
func (c *canvas) void(name string, attrs ...attr) {
	c.tag(name, attrs)
	c.b.WriteString("/>")
}

// text writes an element that holds only text.
func (c *canvas) text(name, content string, attrs ...attr) {
	c.tag(name, attrs)
	c.b.WriteByte('>')
	c.b.WriteString(html.EscapeString(content))
	c.b.WriteString("</" + name + ">")
}

func (c *canvas) line(x1, y1, x2, y2 float64, class string) {
	c.void("line", a("class", class), a("x1", x1), a("y1", y1), a("x2", x2), a("y2", y2))
}

// begin opens a drawing with its title and description for screen readers. id
// must be unique on the page.
func (c *canvas) begin(id, class string, w, h float64, title, desc string) {
	c.open("svg", a("xmlns", "http://www.w3.org/2000/svg"), a("class", class), a("viewBox", fmt.Sprintf("0 0 %s %s", num(w), num(h))),
		a("role", "img"), a("aria-labelledby", id+"-t "+id+"-d"))
	c.text("title", title, a("id", id+"-t"))
	c.text("desc", desc, a("id", id+"-d"))
}

// finish closes what is open and returns the drawing.
func (c *canvas) finish() SVG {
	for len(c.stack) > 0 {
		c.end()
	}
	return SVG(c.b.String())
}

// textWidth estimates the width of a text in the unit of size; the face is
// about half as wide as it is high. Good to 10 percent, which is enough to
// decide whether a label finds room.
func textWidth(s string, size float64) float64 {
	return 0.54 * size * float64(len([]rune(s)))
}

// fit shortens a text with an ellipsis until it is at most width wide.
func fitText(s string, size, width float64) string {
	if textWidth(s, size) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 1 && textWidth(string(r), size) > width-size*0.6 {
		r = r[:len(r)-1]
	}
	if len(r) <= 1 {
		return ""
	}
	return strings.TrimRight(string(r), " ·,") + "…"
}
