package web

import (
	"math"
	"strconv"
	"strings"
)

// number prints x with at most the given decimals and no trailing zeros.
func number(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// millimetres prints a length in mm: whole from 100 on, else with one decimal.
func millimetres(mm float64) string { return number(mm, lengthDecimals(mm)) + " mm" }

func lengthDecimals(mm float64) int {
	if mm >= 100 {
		return 0
	}
	return 1
}

// inches prints a length given in mm in inches.
func inches(mm float64) string { return number(mm/25.4, 1) + " in" }

// bothUnits says a length in mm in both units.
func bothUnits(mm float64) string { return "= " + millimetres(mm) + ", " + inches(mm) }

// focalRatio prints "f/5.9"; "" when it cannot be formed.
func focalRatio(focal, aperture float64) string {
	if !(focal > 0) || !(aperture > 0) {
		return ""
	}
	return "f/" + number(focal/aperture, 1)
}

// plural returns "1 eyepiece" or "3 eyepieces".
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// clock prints a duration since midnight as "20:05".
func clock(minutes int) string {
	h, m := minutes/60%24, minutes%60
	return strconv.Itoa(h/10) + strconv.Itoa(h%10) + ":" + strconv.Itoa(m/10) + strconv.Itoa(m%10)
}

// roundTo rounds x to the given decimals, to rid a stored number of binary dust
// before it is shown in a box.
func roundTo(x float64, decimals int) float64 {
	p := math.Pow(10, float64(decimals))
	return math.Round(x*p) / p
}

// first returns s with its first letter in upper case.
func first(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}
