package nightfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"duskboard/internal/fault"
)

// deepest is how many levels a file may have; the format needs seven.
const deepest = 32

// strict refuses what a lenient reader would swallow: bytes that are no UTF-8,
// a key given twice (the first would be lost), numbers that no float64 holds,
// more levels than any night has, and something behind the end.
func strict(b []byte) error {
	if at := notUTF8(b); at >= 0 {
		return whole("the file is not UTF-8: byte %d", at)
	}
	w := walker{d: json.NewDecoder(bytes.NewReader(b)), b: b}
	w.d.UseNumber()
	if err := w.value("", 0); err != nil {
		return err
	}
	if _, err := w.d.Token(); err != io.EOF {
		return whole("something stands behind the end of the document, %s", w.place())
	}
	return w.faults.OrNil()
}

func notUTF8(b []byte) int {
	for i := 0; i < len(b); {
		r, n := utf8.DecodeRune(b[i:])
		if r == utf8.RuneError && n <= 1 {
			return i
		}
		i += n
	}
	return -1
}

// walker goes through the tokens of a document.
type walker struct {
	d      *json.Decoder
	b      []byte
	faults fault.Fields
}

// place is where the reader stands, in lines and columns of characters.
func (w *walker) place() string {
	at := min(int(w.d.InputOffset()), len(w.b))
	line := 1 + bytes.Count(w.b[:at], []byte("\n"))
	column := utf8.RuneCount(w.b[bytes.LastIndexByte(w.b[:at], '\n')+1:at]) + 1
	return fmt.Sprintf("line %d, column %d", line, column)
}

func (w *walker) bad(path, format string, args ...any) {
	if len(w.faults) < mostFaults {
		w.faults = append(w.faults, fault.Field{Name: path, Message: fmt.Sprintf(format, args...)})
	}
}

// value reads one value; its error ends the reading.
func (w *walker) value(path string, level int) error {
	if level > deepest {
		return whole("the file has more than %d levels, %s", deepest, w.place())
	}
	t, err := w.d.Token()
	if err != nil {
		return w.broken(err)
	}
	switch x := t.(type) {
	case json.Number:
		if v, err := strconv.ParseFloat(x.String(), 64); err != nil || math.IsInf(v, 0) {
			w.bad(path, "the number %.40s is too large", x.String())
		}
	case string:
		if i := strings.IndexFunc(x, unprintable); i >= 0 {
			r, _ := utf8.DecodeRuneInString(x[i:])
			w.bad(path, "the character %U cannot be printed", r)
		}
	case json.Delim:
		if x == '{' {
			return w.object(path, level)
		}
		return w.array(path, level)
	}
	return nil
}

// unprintable are control characters other than those of ordinary text.
func unprintable(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\r' && r != '\t'
}

func (w *walker) object(path string, level int) error {
	seen := map[string]bool{}
	for w.d.More() {
		t, err := w.d.Token()
		if err != nil {
			return w.broken(err)
		}
		key, ok := t.(string)
		if !ok {
			return whole("the file is not JSON, %s", w.place())
		}
		here := path + "/" + key
		if seen[key] {
			w.bad(here, "given twice; only one can count")
		}
		seen[key] = true
		if err := w.value(here, level+1); err != nil {
			return err
		}
	}
	return w.close()
}

func (w *walker) array(path string, level int) error {
	for i := 0; w.d.More(); i++ {
		if err := w.value(path+"/"+strconv.Itoa(i), level+1); err != nil {
			return err
		}
	}
	return w.close()
}

func (w *walker) close() error {
	if _, err := w.d.Token(); err != nil {
		return w.broken(err)
	}
	return nil
}

func (w *walker) broken(err error) error {
	if err == io.EOF || err == io.ErrUnexpectedEOF {
		return whole("the file ends too early, %s", w.place())
	}
	return whole("the file is not JSON, %s: %v", w.place(), err)
}
