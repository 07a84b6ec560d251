package web

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"duskboard/internal/catalog"
)

// The language file: a table with the columns key, english and text, separated
// by commas or semicolons, UTF-8; or a JSON object of texts by key. Keys are
//
//	decimal                 the decimal sign
//	text.KEY                a text of the papers; %-marks stand for numbers and names
//	list.NAME.N             the Nth of a list: months, directions, numbers in words
//	kind.KIND               a kind of target
//	constellation.ABC       a constellation
//	target.ID.FIELD         name, line, fact.1 to fact.3, lookFor, expect, find, child
//
// An empty text and a missing key stay English.

// textKey is one text that a language can have.
type textKey struct {
	Key, English string
	Most         int // characters that fit; 0 for no limit
}

// mostText is how long a text of the papers may be: twice the longest English
// one, so that nothing grows out of its place.
const mostText = 400

// languageKeys are all texts in the order of the file.
func (w *cardWords) languageKeys() []textKey {
	out := []textKey{{"decimal", w.Decimal, 1}}
	for _, key := range sortedKeys(w.Texts) {
		if w.Texts[key] != "" {
			out = append(out, textKey{"text." + key, w.Texts[key], mostText})
		}
	}
	for _, name := range sortedKeys(w.Lists) {
		for i, t := range w.Lists[name] {
			if t != "" {
				out = append(out, textKey{listKey(name, i), t, 40})
			}
		}
	}
	kinds := map[string]string{}
	for _, t := range w.targets.All() {
		kinds[string(t.Kind)] = w.targets.KindWord(t.Kind)
	}
	for _, k := range sortedKeys(kinds) {
		out = append(out, textKey{"kind." + k, kinds[k], 40})
	}
	for _, f := range catalog.Lines() {
		if name := w.targets.ConstellationName(f.ID); name != "" && !slices.ContainsFunc(out, func(k textKey) bool { return k.Key == "constellation."+f.ID }) {
			out = append(out, textKey{"constellation." + f.ID, name, 40})
		}
	}
	for _, t := range w.targets.All() {
		key := "target." + t.ID + "."
		out = append(out, textKey{key + "name", t.Name, 60}, textKey{key + "line", t.Words.Line, catalog.MaxLine})
		for i := range catalog.MaxFacts {
			fact := ""
			if i < len(t.Words.Facts) {
				fact = t.Words.Facts[i]
			}
			out = append(out, textKey{fmt.Sprintf("%sfact.%d", key, i+1), fact, catalog.MaxFact})
		}
		out = append(out, textKey{key + "lookFor", t.Words.LookFor, catalog.MaxLookFor}, textKey{key + "expect", t.Words.Expect, catalog.MaxExpect},
			textKey{key + "find", t.Words.Find, catalog.MaxFind}, textKey{key + "child", w.say("child." + string(t.Kind)), catalog.MaxLine})
	}
	return out
}

func sortedKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// RowFault is what is wrong with one row of a file, or of one key.
type RowFault struct {
	Row     int // of the table, the head being 1; 0 for a JSON file
	Key     string
	Message string
}

// readLanguage reads a language file and checks each text against English. On
// any fault nothing may be kept.
func (w *cardWords) readLanguage(file string) (map[string]string, []RowFault, error) {
	file = strings.TrimPrefix(file, "\ufeff")
	if !utf8.ValidString(file) {
		return nil, nil, errors.New("the file is not UTF-8 text: save it as UTF-8")
	}
	known := map[string]textKey{}
	for _, k := range w.languageKeys() {
		known[k.Key] = k
	}
	texts := map[string]string{}
	var faults []RowFault
	take := func(row int, key, text string) {
		key, text = strings.TrimSpace(key), strings.TrimSpace(text)
		k, ok := known[key]
		_, twice := texts[key]
		switch fault := ""; {
		case key == "" && text == "" || ok && text == "":
			return
		case !ok:
			faults = append(faults, RowFault{row, key, "There is no such text. Take the keys from the file of English texts."})
		case twice:
			faults = append(faults, RowFault{row, key, "This key stands twice in the file."})
		default:
			if fault = k.fault(text); fault != "" {
				faults = append(faults, RowFault{row, key, fault})
			}
			texts[key] = text
		}
	}
	if strings.HasPrefix(strings.TrimSpace(file), "{") {
		var all map[string]string
		if err := json.Unmarshal([]byte(file), &all); err != nil {
			return nil, nil, fmt.Errorf("the file is not a JSON object of texts by key: %w", err)
		}
		for _, key := range sortedKeys(all) {
			take(0, key, all[key])
		}
	} else if err := readTable(file, take); err != nil {
		return nil, nil, err
	}
	if len(texts) == 0 && len(faults) == 0 {
		return nil, nil, errors.New("the file holds no texts: fill in the column text")
	}
	return texts, faults, nil
}

// readTable goes through the rows of a table.
func readTable(file string, take func(row int, key, text string)) error {
	head, _, _ := strings.Cut(file, "\n")
	r := csv.NewReader(strings.NewReader(file))
	r.FieldsPerRecord = -1
	if strings.Count(head, ";") > strings.Count(head, ",") {
		r.Comma = ';'
	}
	key, text := -1, -1
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return fmt.Errorf("the table cannot be read: %w", err)
		}
		row, _ := r.FieldPos(0)
		if key < 0 {
			for i, c := range cells {
				switch strings.ToLower(strings.TrimSpace(c)) {
				case "key":
					key = i
				case "text":
					text = i
				}
			}
			if key < 0 || text < 0 {
				return errors.New("the first row must name the columns key and text")
			}
			continue
		}
		if key < len(cells) && text < len(cells) {
			take(row, cells[key], cells[text])
		}
	}
	return nil
}

var textVerb = regexp.MustCompile(`%%|%(\[\d\])?[sd]`)

// fault says what is wrong with a text for a key; "" for nothing.
func (k textKey) fault(text string) string {
	if n := utf8.RuneCountInString(text); k.Most > 0 && n > k.Most {
		return fmt.Sprintf("%d characters, at most %d fit.", n, k.Most)
	}
	if strings.ContainsAny(text, "\n\r\t") {
		return "A text is one line."
	}
	want, got := textVerb.FindAllString(k.English, -1), textVerb.FindAllString(text, -1)
	if len(want) == 0 {
		return "" // printed as it is
	}
	slices.Sort(want)
	slices.Sort(got)
	if !slices.Equal(want, got) || strings.Contains(textVerb.ReplaceAllString(text, ""), "%") {
		return "It must hold the same marks as the English text: " + strings.Join(want, " ") + "."
	}
	return ""
}

// writeLanguage is the table of a language, to translate or to change.
func (w *cardWords) writeLanguage(english *cardWords) []byte {
	var b bytes.Buffer
	c := csv.NewWriter(&b)
	_ = c.Write([]string{"key", "english", "text"}) // a buffer takes everything
	own := map[string]string{}
	switch {
	case w.file != nil:
		own = w.file
	case w.Code != english.Code:
		for _, k := range w.languageKeys() {
			own[k.Key] = k.English
		}
	}
	for _, k := range english.languageKeys() {
		_ = c.Write([]string{k.Key, k.English, own[k.Key]})
	}
	c.Flush()
	return b.Bytes()
}
