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
}

// Checks are boxes that belong together.
type Checks struct {
	Label, Hint, Error string
	Items              []Check
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
