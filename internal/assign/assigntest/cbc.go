package assigntest

import (
	"errors"
	"regexp"
	"strconv"
	"strings"
)

// CBC prints its result in one of two ways, with or without branching.
var objective = regexp.MustCompile(`(?m)^(?:Objective value:\s+|Optimal objective )(\S+)`)

// ErrNotProven says that CBC's output does not end in a proven optimum.
var ErrNotProven = errors.New("no proven optimum")

// ReadObjective returns the greatest value that CBC 2.10 proved for a
// programme of WriteLP, from what it prints.
func ReadObjective(out string) (float64, error) {
	m := objective.FindAllStringSubmatch(out, -1)
	proven := strings.Contains(out, "Result - Optimal solution found\n") ||
		!strings.Contains(out, "Result - ") && strings.Contains(out, "Optimal objective ")
	if m == nil || !proven {
		return 0, ErrNotProven
	}
	return strconv.ParseFloat(m[len(m)-1][1], 64)
}
