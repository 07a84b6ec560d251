package views

// Head is what a handler says about its page.
type Head struct {
	Title   string // of the tab and, by convention, the h1
	Section string // "nights", "kit", "crew" or "sites": marked in the masthead
	Crumbs  []Link // the way back, outermost first, without the page itself
	Bare    bool   // for who is not of the crew's planners: no way to the other pages
}

// Page is what the shell shows around a body.
type Page struct {
	Head
	Club    string // name of the club; may be empty
	Theme   string // "paper" or "lamp"
	Path    string // address of this page, to come back to
	Flash   *Flash
	Assets  string // address under which the static files are
	Version string
	Demo    bool
	Who     string // name of who is signed in; "" shows no account
	Help    *Link  // the guide's page about this task; nil when there is none
}

// docTitle is the text of the browser's tab.
func (p Page) docTitle() string {
	if p.Title == "" || p.Title == "Duskboard" {
		return "Duskboard"
	}
	return p.Title + " · Duskboard"
}

// Flash is a message seen once, on the page after a change.
type Flash struct {
	Text string
	Undo string `json:",omitempty"` // address to post to; "" offers no undo
}

// Link is text that leads somewhere. Current marks the page one is on.
type Link struct {
	Text, Href string
	Current    bool
}

// ErrorModel is the page for a request that failed.
type ErrorModel struct {
	Title, Text string
	Path        string
	ID          string // of the log line
	ShowID      bool
}
