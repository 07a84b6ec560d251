package web_test

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"duskboard/static"
)

var hexColour = regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b`)

// TestLampHasNoGreenOrBlue guards dark adaptation: in the lamp theme every
// colour is black or red. Elsewhere the style sheet names colours by token
// only, so that nothing can escape the theme.
func TestLampHasNoGreenOrBlue(t *testing.T) {
	tokens, err := fs.ReadFile(static.Files, "css/tokens.css")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(tokens), `[data-theme="lamp"] {`)
	if !ok {
		t.Fatal("tokens.css has no lamp theme")
	}
	block, _, _ := strings.Cut(rest, "}")
	colours := hexColour.FindAllString(block, -1)
	if len(colours) < 10 {
		t.Fatalf("only %d colours in the lamp theme", len(colours))
	}
	for _, c := range colours {
		if !red(c) {
			t.Errorf("lamp theme: %s has green or blue", c)
		}
	}
	for _, name := range []string{"img/tick-lamp.svg", "img/arrow-lamp.svg"} {
		b, err := fs.ReadFile(static.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range hexColour.FindAllString(string(b), -1) {
			if !red(c) {
				t.Errorf("%s: %s has green or blue", name, c)
			}
		}
	}
	for _, name := range []string{"base", "shell", "parts", "tables", "forms", "kit", "sites", "nights"} {
		b, err := fs.ReadFile(static.Files, "css/"+name+".css")
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range hexColour.FindAllString(string(b), -1) {
			t.Errorf("%s.css names the colour %s: use a token", name, c)
		}
	}
}

// red reports whether a colour #rrggbb has neither green nor blue.
func red(c string) bool { return len(c) == 7 && c[3:] == "0000" }
