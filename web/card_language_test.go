package web

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"duskboard/internal/night"
)

func englishWords(t testing.TB) *cardWords {
	t.Helper()
	all, err := cardLanguages()
	if err != nil {
		t.Fatal(err)
	}
	return all["en"]
}

// TestLanguageFileRoundTrip: what is saved as a table reads back text by text,
// by commas, by semicolons and as JSON.
func TestLanguageFileRoundTrip(t *testing.T) {
	all, err := cardLanguages()
	if err != nil {
		t.Fatal(err)
	}
	table := string(all["de"].writeLanguage(all["en"]))
	texts, faults, err := all["en"].readLanguage(table)
	if err != nil || len(faults) > 0 {
		t.Fatalf("the German table is refused: %v, %v", err, faults)
	}
	if keys := len(all["en"].languageKeys()); len(texts) < keys*9/10 {
		t.Errorf("%d of %d texts came back", len(texts), keys)
	}
	if texts["target.saturn.line"] == "" || texts["list.months.12"] != "Dezember" || texts["text.care"] != "Pflege" || texts["decimal"] != "," {
		t.Errorf("texts: %q, %q, %q, %q", texts["target.saturn.line"], texts["list.months.12"], texts["text.care"], texts["decimal"])
	}
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Comma = ';'
	_ = w.WriteAll(rows)
	other, faults, err := all["en"].readLanguage("\ufeff" + b.String())
	if err != nil || len(faults) > 0 || len(other) != len(texts) {
		t.Errorf("by semicolons: %d texts, %v, %v", len(other), faults, err)
	}
	doc, _ := json.Marshal(texts)
	other, faults, err = all["en"].readLanguage(string(doc))
	if err != nil || len(faults) > 0 || len(other) != len(texts) {
		t.Errorf("as JSON: %d texts, %v, %v", len(other), faults, err)
	}

	// A language of the club's own made of it says the same as German.
	own := all["en"].spoken(night.CardLanguage{Code: "de-club", Name: "Deutsch", Texts: texts})
	if a, b := own.say("span", "18:00", "18:20"), all["de"].say("span", "18:00", "18:20"); a != b {
		t.Errorf("a span is %q, in German %q", a, b)
	}
	saturn, _ := all["en"].targets.ByID("saturn")
	if a, b := own.target(saturn).Words, all["de"].target(saturn).Words; fmt.Sprint(a) != fmt.Sprint(b) {
		t.Errorf("Saturn is %v, in German %v", a, b)
	}
	if own.quoted("ja") != "„ja“" || own.list("months", 11) != "Dezember" || own.number(1.5, 1) != "1,5" {
		t.Errorf("%s, %s, %s", own.quoted("ja"), own.list("months", 11), own.number(1.5, 1))
	}
}

// TestLanguageFileFaults: every bad row is named with its number and what is
// wrong, and what is left out stays English.
func TestLanguageFileFaults(t *testing.T) {
	w := englishWords(t)
	file := "key,english,text\n" +
		"text.care,Care,Zorg\n" + // 2
		"text.nonsense,x,y\n" + // 3
		"text.span,%[1]s to %[2]s,van %[1]s\n" + // 4
		"text.numbers,,\"%[1]s×, veld %[2]s: %[3]s %x.\"\n" + // 5
		"text.care,Care,Onderhoud\n" + // 6
		"target.m13.line,," + strings.Repeat("a", 121) + "\n" + // 7
		"decimal,.,comma\n" + // 8
		"text.looks,,\n" // 9: empty, left out
	texts, faults, err := w.readLanguage(file)
	if err != nil {
		t.Fatal(err)
	}
	var rows []int
	for _, f := range faults {
		rows = append(rows, f.Row)
	}
	if fmt.Sprint(rows) != "[3 4 5 6 7 8]" {
		t.Errorf("faults in rows %v, want 3 to 8: %+v", rows, faults)
	}
	if _, ok := texts["text.looks"]; ok || texts["text.care"] == "" {
		t.Errorf("texts %v", texts)
	}
	for file, want := range map[string]string{"": "names the columns", "a,b\n1,2\n": "name the columns", "{\"x\":1}": "JSON", "key,text\n": "no texts", "\xff\xfe": "UTF-8", "key,text\n\"x": "cannot be read"} {
		if file == "" {
			want = "no texts"
		}
		if _, _, err := w.readLanguage(file); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("file %q: %v, want words on %q", file, err, want)
		}
	}
	own := w.spoken(night.CardLanguage{Code: "nl", Name: "Nederlands", Texts: map[string]string{"text.care": "Zorg"}})
	if own.say("care") != "Zorg" || own.say("looks") != w.say("looks") {
		t.Errorf("%q, %q", own.say("care"), own.say("looks"))
	}
}

// FuzzLanguageFile: no file makes the reader panic, and texts that it accepts
// print without a stray mark.
func FuzzLanguageFile(f *testing.F) {
	f.Add("key,text\ntext.span,%[2]s – %[1]s\n")
	f.Add(`{"text.page":"%[1]d/%[2]d","list.months.1":"januari"}`)
	f.Add("key;text\ntext.moons.part;%d %% of %\n")
	w := englishWords(f)
	f.Fuzz(func(t *testing.T, file string) {
		texts, faults, err := w.readLanguage(file)
		if err != nil || len(faults) > 0 {
			return
		}
		own := w.spoken(night.CardLanguage{Code: "xx", Name: "X", Texts: texts})
		for _, said := range []string{own.say("span", "a", "b"), own.say("page", 1, 2), own.say("moons.part", 5), own.say("numbers", "a", "b", "c"), own.say("nudge.many", "a", "b")} {
			if strings.Contains(said, "%!") {
				t.Errorf("prints %q", said)
			}
		}
	})
}
