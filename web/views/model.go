package views

// Field is one input of a form. Value is what was typed, kept when it is
// refused; Error stands beside it then.
type Field struct {
	Name, Label string
	Hint        string // what is meant, before anyone errs
	Unit        string // printed behind the box
	Value       string
	Error       string
	Placeholder string
	Also        string // the same value in another unit, or what is assumed: "= 203 mm"
	Type        string // of the input; "" is text
	Mode        string // inputmode: "decimal", "numeric"; "" leaves it
	List        string // id of a datalist
	Width       string // "short", "mid" or "" for full
	Required    bool
	Rows        int    // of a text area
	Auto        string // what the browser may fill in, as autocomplete has it; "" is nothing
	Convert     string // "length" lets the script show both units while typing
}

// Option is one choice.
type Option struct {
	Value, Text, Hint string
}

// Choice is one of several options.
type Choice struct {
	Name, Label, Hint, Value, Error string
	Options                         []Option
	Width                           string
}

// Check is a box to tick.
type Check struct {
	Name, Value string // Value "" is sent as "1"
	Label, Hint string
	Checked     bool
	Error       string
}

// Checks are boxes that belong together.
type Checks struct {
	Name, Label, Hint, Error string
	Items                    []Check
}

// FieldError is one line of the summary above a refused form.
type FieldError struct {
	Name, Label, Message string
}

// Todo is one thing to do next. Action "" shows none.
type Todo struct {
	Text, Why    string
	Action, Href string
	Main         bool // the one button that matters
	Done         bool
}

// Row is one line of a cast list: a name, leaders, a value.
type Row struct {
	Label, Value, Note string
}

// Column is a column of a table. Number aligns it to the right.
type Column struct {
	Label  string
	Number bool
}

// Cell is one value of a table.
type Cell struct {
	Text string
	Href string // makes the text a link
	Note string // small print below
	Mark string // a state word beside the text
	Fold bool   // the note is long and opens on request
}

// Table is a table whose rows become blocks on a phone.
type Table struct {
	Caption string // read out; shown when ShowCaption
	Columns []Column
	Rows    [][]Cell
}

// Notice is a message inside a page. Kind: "note" (thin rule), "warn" (framed)
// or "stop" (framed twice); the word in Title says the same.
type Notice struct {
	Kind, Title string
}

// EmptyState says what to do where nothing is yet.
type EmptyState struct {
	Title, Text  string
	Action, Href string
}

// Item is one part of a form: exactly one of its fields is set.
type Item struct {
	Input  *Field
	Area   *Field
	Choice *Choice
	Check  *Check
	Checks *Checks
	Class  string // of a check
}

// FormGroup is a fieldset. Quick ones stand open, the others are folded.
type FormGroup struct {
	Title, Hint string
	Quick       bool
	Items       []Item
}

// GearForm is the page to add or change one piece of gear.
type GearForm struct {
	Over, Title, Lead string
	Action            string // address to post to
	Preview           string // address that shows the defaults; "" has none
	Back              string
	SaveLabel         string
	Version           string
	Another           string // label of "save and add another"; "" has none
	Retire            string // address to retire; "" when new
	Restore           string // address to restore, when it is retired
	Groups            []FormGroup
	Faults            []FieldError
	Conflict          []string // where the stored row differs, when it was saved meanwhile
	Stale             bool     // it was saved meanwhile
}

// fault returns the message beside the item, or "".
func (i Item) fault() string {
	switch {
	case i.Input != nil:
		return i.Input.Error
	case i.Area != nil:
		return i.Area.Error
	case i.Choice != nil:
		return i.Choice.Error
	case i.Check != nil:
		return i.Check.Error
	case i.Checks != nil:
		return i.Checks.Error
	}
	return ""
}

// KitModel is the list of all gear.
type KitModel struct {
	Empty   bool
	Shelves []Shelf
	Missing []MissingKind
	Retired []RetiredPiece
}

// Shelf is one kind of gear that the club has.
type Shelf struct {
	ID, Title, Count string
	Add              Link
	Table            Table
}

// MissingKind is one kind of gear that the club has none of.
type MissingKind struct {
	Title, Why string
	Add        Link
}

// RetiredPiece is gear that is kept for the history.
type RetiredPiece struct {
	Name, Kind, Href, Restore string
}
