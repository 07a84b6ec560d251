package chart_test

import (
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskboard/internal/chart"
)

func evening(values ...float64) chart.CourseDrawing {
	from := time.Date(2026, 10, 24, 17, 0, 0, 0, time.UTC)
	d := chart.CourseDrawing{ID: "x", Title: "Air", Unit: "°C", From: from, To: from.Add(time.Duration(len(values)-1) * time.Hour), Zone: time.UTC}
	for i := range values {
		d.Times = append(d.Times, from.Add(time.Duration(i)*time.Hour))
	}
	d.Courses = []chart.Course{{Name: "air", Values: values}}
	return d
}

// curves returns the points of each line drawn in the field, and how often the
// pen was lifted.
func curves(t *testing.T, svg chart.SVG) (points [][2]float64, moves int) {
	t.Helper()
	for _, m := range regexp.MustCompile(`<path class="curve(?: heavy)?" d="([^"]*)"`).FindAllStringSubmatch(string(svg), -1) {
		for _, p := range regexp.MustCompile(`([ML])([\d.-]+) ([\d.-]+)`).FindAllStringSubmatch(m[1], -1) {
			px, err1 := strconv.ParseFloat(p[2], 64)
			py, err2 := strconv.ParseFloat(p[3], 64)
			if err1 != nil || err2 != nil {
				t.Fatalf("point %q is not a number", p[0])
			}
			if px < 190 {
				continue // the legend
			}
			if p[1] == "M" {
				moves++
			}
			points = append(points, [2]float64{px, py})
		}
	}
	return points, moves
}

// TestLinesShareTheTimeAxisOfTheLineUp guards that the drawings can be read one
// under the other: the first instant lies where the board's does.
func TestLinesShareTheTimeAxisOfTheLineUp(t *testing.T) {
	d := evening(8, 7, 6, 5)
	points, moves := curves(t, chart.Courses(d))
	if moves != 1 || len(points) != 4 {
		t.Fatalf("%d points in %d pieces, want 4 in one", len(points), moves)
	}
	board := string(chart.DrawBoard(chart.Board{ID: "b", From: d.From, To: d.To, Zone: time.UTC,
		Bands: []chart.Band{{From: d.From, To: d.To, Name: "dark", Level: 4}}, Rows: []chart.BoardRow{{Title: "The Barrel"}}}))
	m := regexp.MustCompile(`class="sky4" x="([\d.]+)" y="0" width="([\d.]+)"`).FindStringSubmatch(board)
	if m == nil {
		t.Fatal("the board has no band of darkness")
	}
	left, _ := strconv.ParseFloat(m[1], 64)
	width, _ := strconv.ParseFloat(m[2], 64)
	if points[0][0] != left || math.Abs(points[3][0]-left-width) > 0.01 {
		t.Errorf("the line runs from x %v to %v, the board from %v to %v", points[0][0], points[3][0], left, left+width)
	}
	for i := 1; i < 4; i++ {
		if points[i][1] <= points[i-1][1] {
			t.Errorf("falling air must go down on the page: %v", points)
		}
	}
}

// TestGapsLiftThePen guards that nothing is drawn where nobody knows.
func TestGapsLiftThePen(t *testing.T) {
	nan := math.NaN()
	points, moves := curves(t, chart.Courses(evening(8, 7, nan, nan, 5, 4)))
	if len(points) != 4 || moves != 2 {
		t.Errorf("%d points in %d pieces, want 4 in 2", len(points), moves)
	}
	all := chart.Courses(evening(nan, nan))
	if !strings.Contains(string(all), "air is not known") {
		t.Error("a line without values does not say so")
	}
}

// TestLinesAreWholeMarkup parses every drawing, with hostile names, extreme and
// equal values, an axis without length and clock changes.
func TestLinesAreWholeMarkup(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	back := time.Date(2026, 10, 24, 22, 0, 0, 0, time.UTC) // the clocks go back at 01:00 UTC
	for name, d := range map[string]chart.CourseDrawing{
		"hostile":  func() chart.CourseDrawing { d := evening(1, 2); d.Courses[0].Name = `<script>"&'`; return d }(),
		"equal":    evening(5, 5, 5),
		"huge":     evening(-1e9, 1e9),
		"infinite": evening(math.Inf(1), math.Inf(-1), 3),
		"nothing":  {ID: "x", Title: "none", From: back, To: back, Zone: time.UTC},
		"clocks":   func() chart.CourseDrawing { d := evening(1, 2, 3, 4, 5, 6); d.Zone = berlin; return d }(),
		"band": func() chart.CourseDrawing {
			d := evening(1, 2)
			d.Courses[0].Low, d.Courses[0].High = []float64{0, 1}, []float64{2, 3}
			return d
		}(),
	} {
		svg := string(chart.Courses(d))
		if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") || strings.Contains(svg, "<script>") {
			t.Errorf("%s: the markup holds what no browser draws", name)
		}
		dec := xml.NewDecoder(strings.NewReader(svg))
		for {
			if _, err := dec.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Errorf("%s: %v", name, err)
				break
			}
		}
		if name == "band" && !strings.Contains(svg, `class="spread"`) {
			t.Error("the band is not drawn")
		}
	}
}
