package weather

import (
	"fmt"
	"strings"
)

// Names of the values in faults and in [Line]; a form uses them as the names
// of its inputs so that the reason lands beside the field.
const (
	ColTime       = "time"
	ColTemp       = "temp"
	ColDewPoint   = "dew_point"
	ColRH         = "humidity"
	ColCloud      = "cloud"
	ColCloudLow   = "cloud_low"
	ColCloudMid   = "cloud_mid"
	ColCloudHigh  = "cloud_high"
	ColWind       = "wind"
	ColGust       = "gust"
	ColPrecip     = "rain"
	ColPrecipProb = "rain_chance"
	ColThunder    = "thunder"
)

// Fault is one thing wrong with typed or uploaded weather.
type Fault struct {
	Line   int    // line of the file or typed line, from 1; 0 for the whole
	Column string // one of the Col names, or the header as written; empty for the whole line
	Reason string // fit for the visitor, lower-case, no full stop
}

// String is the fault as "line 3, humidity: reason".
func (f Fault) String() string {
	var at []string
	if f.Line > 0 {
		at = append(at, fmt.Sprintf("line %d", f.Line))
	}
	if f.Column != "" {
		at = append(at, f.Column)
	}
	if len(at) == 0 {
		return f.Reason
	}
	return strings.Join(at, ", ") + ": " + f.Reason
}

// Faults is every fault found; with any of them nothing is accepted.
type Faults []Fault

// Error lists the faults, one a line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.String()
	}
	return strings.Join(lines, "\n")
}

func (fs *Faults) add(line int, column, format string, args ...any) {
	*fs = append(*fs, Fault{Line: line, Column: column, Reason: fmt.Sprintf(format, args...)})
}
