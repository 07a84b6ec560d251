package guide

// Group is the pages for one kind of reader or moment.
type Group struct {
	Key, Title, Lead string
	Pages            []*Page
}

// order is every page once, grouped by who reads it and when. A test compares
// it with the files.
var order = []struct {
	key, title, lead string
	pages            []string
}{
	{"before", "Before the night", "For the coordinator: weeks to hours before the gate opens.", []string{
		"start", "kit", "kit-table", "site", "field", "night", "choose", "targets", "fits", "line-up", "volunteers", "answers", "roster",
		"weather", "dew", "decision", "print", "programme",
	}},
	{"crew", "For the crew", "What do I bring, when do I leave, what do I show?", []string{"own-page", "departure", "telescope"}},
	{"field", "On the field", "In the dark, with a card and a red lamp.", []string{"red-lamp", "cloud", "dropout", "cautions"}},
	{"after", "Afterwards", "What remains of a night.", []string{"hours"}},
	{"keep", "Keeping the program", "Accounts, copies, and other people's data.", []string{"accounts", "backup", "history", "privacy"}},
	{"look-up", "To look up", "Words, numbers and keys.", []string{"numbers", "exactness", "keys", "trouble"}},
}
