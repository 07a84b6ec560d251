package views

import "strconv"

func intWord(n int) string { return strconv.Itoa(n) }
