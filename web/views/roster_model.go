package views

// RosterModel is the board of people of a night.
type RosterModel struct {
	Over                               string
	Tabs                               []Link
	Base                               string
	Version                            int64
	Asked, Any                         bool
	ChooseHref, AnswersHref, RulesHref string
	Facts                              string
	Unanswered                         int
	Wide, Narrow                       string // the board as drawn for a desk and for a phone
	CanChange, CanUndo, CanRedo        bool
	Attend                             string // who was there, once the night has begun
	Says                               string // what the last change did
	Conflicts                          []RosterWords
	Unstaffed, Parked                  []string
	Gaps                               []RosterGap
	Table, Needs                       Table
	Earlier                            []EarlierRoster
}

// RosterWords is one conflict or caution, with the duty it is about.
type RosterWords struct{ Word, Text, Href string }

// RosterGap is one post that lacks people.
type RosterGap struct{ Post, Span, Words, Action, Href string }

// EarlierRoster is one that can be brought back.
type EarlierRoster struct{ ID, What, When, Count string }

// RosterOffer is one way to fill a duty anew.
type RosterOffer struct {
	Person, Words, Action, Post string
	From, To                    int64
}

// DutyModel is the form of one duty.
type DutyModel struct {
	Over, Title               string
	Action, Check, Back, Path string
	ID, Version               int64 // Version is the roster's
	Pinned                    bool
	With                      string
	Person, Post, From, To    Choice
	Faults                    []FieldError
	Verdict                   DutyVerdict
	Offers                    []RosterOffer
}

// DutyVerdict says at once what a duty would break.
type DutyVerdict struct {
	Fine, Never, Refused bool
	Breaks               []string
}

// CrewNightModel is one person on one night.
type CrewNightModel struct {
	Over, Title, Path, Back, Answer, Wishes string
	Gone                                    bool
	Add, Propose, LineUp, EditHref          string
	Duties                                  []Row
	Hrefs                                   []string // of the duties
	Lost                                    []LostDuty
	Unstaffed                               []string
	Tell                                    []TellRow
}

// LostDuty is a duty of somebody who dropped out.
type LostDuty struct {
	Words, Taken string
	Offers       []RosterOffer
}

// TellRow is somebody who has to know.
type TellRow struct{ Name, Why, Contact, Mail string }

// CallList is the sheet for the table at the gate.
type CallList struct {
	Over, Title, Contact, Back string
	Rows                       []CallRow
}

// CallRow is one person on the call list.
type CallRow struct {
	Name, Contact, Note string
	Duties              []string
}

// InsistModel is a change that was not made, and why; with an action, it can be
// made all the same.
type InsistModel struct {
	Title, Done  string
	Breaks       []string
	Action, Back string
	Fields       [][2]string // names and values of the form that insists
}
