package night

import "time"

// Papers is how a club prints its cards.
type Papers struct {
	Layout   string // "half": two cards to a sheet; "full": one
	Language string // code of a language of the cards
}

// NightPapers is what a night says about its papers.
type NightPapers struct {
	Published bool   // the programme is public
	Language  string // of cards and programme; "" is the club's
}

// CardWords are what a club says of a target in one language. What is empty
// stays as the program has it.
type CardWords struct {
	Line    string   `json:"line,omitempty"`
	Facts   []string `json:"facts,omitempty"` // one empty entry keeps the program's fact of that place
	LookFor string   `json:"lookFor,omitempty"`
	Expect  string   `json:"expect,omitempty"`
	Find    string   `json:"find,omitempty"`
	Child   string   `json:"child,omitempty"` // said to a child
}

// Empty reports that nothing is the club's own.
func (w CardWords) Empty() bool {
	for _, f := range w.Facts {
		if f != "" {
			return false
		}
	}
	return w.Line == "" && w.LookFor == "" && w.Expect == "" && w.Find == "" && w.Child == ""
}

// CardLanguage is a language that a club added to its cards: texts by key, in
// the form of package web's language file.
type CardLanguage struct {
	Code, Name string
	Texts      map[string]string
	At         time.Time // UTC, of the last file
	Removed    bool
}
