package sky

import (
	"fmt"
	"strings"
)

// Fault is one thing wrong in a line that is read by columns.
type Fault struct {
	Line   int    // 1 for the first line of what was pasted
	Column int    // 1 for the first character; 0 for the line as a whole
	Field  string // what should stand there: "eccentricity"
	Reason string // fit for the visitor
}

// String writes the fault as one sentence.
func (f Fault) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "line %d", f.Line)
	if f.Column > 0 {
		fmt.Fprintf(&b, ", column %d", f.Column)
	}
	if f.Field != "" {
		fmt.Fprintf(&b, ", %s", f.Field)
	}
	return b.String() + ": " + f.Reason
}

// Faults are all that is wrong, in order of line and column. It is an error.
type Faults []Fault

// Error writes the faults one a line.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, fault := range f {
		lines[i] = fault.String()
	}
	return strings.Join(lines, "\n")
}
