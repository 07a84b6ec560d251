package chart

import (
	"strings"
	"sync"
)

// Face is one of the program's faces, for measuring text without a browser.
type Face int

// The faces.
const (
	Text  Face = iota // Atkinson Hyperlegible Next, regular
	Bold              // the same, bold
	Title             // Young Serif
)

// advances maps a character to its advance in each face, thousandths.
var advances = sync.OnceValue(func() map[rune][3]float64 {
	m := map[rune][3]float64{}
	i := 0
	for _, r := range advanceRunes {
		m[r] = [3]float64{float64(advanceText[i]), float64(advanceBold[i]), float64(advanceTitle[i])}
		i++
	}
	return m
})

// Width returns how wide a text is when set in a size, in the unit of the
// size. The advances are the font's own, without kerning: right to a percent.
// Figures count as wide as the widest, because tables set them so. A
// character that was not measured counts as a wide letter.
func Width(s string, size float64, f Face) float64 {
	w := 0.0
	table := advances()
	for _, r := range s {
		if r >= '0' && r <= '9' {
			r = '0'
		}
		a, ok := table[r]
		if !ok {
			a = [3]float64{800, 850, 900}
		}
		w += a[f]
	}
	return w * size / 1000
}

// Lines returns how many lines a paragraph takes in a column, broken between
// words as a browser does; 0 for an empty one. first is what stands before it
// on the first line already.
func Lines(s string, size, width, first float64, f Face) int {
	words := strings.Fields(s)
	if len(words) == 0 {
		return 0
	}
	space := Width(" ", size, f)
	n, x := 1, first
	for _, w := range words {
		ww := Width(w, size, f)
		if x > 0 && x+space+ww > width {
			n, x = n+1, 0
		}
		if x > 0 {
			x += space
		}
		x += ww
	}
	return n
}
