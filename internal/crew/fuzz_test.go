package crew_test

import (
	"strings"
	"testing"

	"duskboard/internal/crew"
)

// FuzzReadCSV feeds any text to the import of volunteers: rows or an error,
// never a panic, and never more rows than lines.
func FuzzReadCSV(f *testing.F) {
	for _, s := range []string{
		"name,email,phone\nNoor,n@club.example,+44 1\n", "\ufeffName;E-Mail;Drive\nBo;b@club.example;12,5\n", "name\n\"a\nb\"\n", "name\n=1+1\n",
		"name,drive\nA,NaN\nB,1e309\nC,-5\n", "name\n" + strings.Repeat("ن", 200) + "\n", "name,name\na,b\n", "", "\n\n", "name\n\"", "\xff\xfe", "name\x00\na\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		rows, err := crew.ReadCSV(s, nil, nil)
		if lines := strings.Count(s, "\n") + strings.Count(s, "\r") + 1; err == nil && len(rows) > lines {
			t.Errorf("%d rows of %d lines", len(rows), lines)
		}
	})
}
