package views

// NightListModel is the list of nights.
type NightListModel struct {
	Upcoming, Past Table
	Retired        []RetiredPiece
	HasSite        bool
}

// NightForm is the page to plan a night or change its date and hours.
type NightForm struct {
	Title, Action, Back, SaveLabel, Version string
	Retire, Restore                         string
	HasSite                                 bool
	Faults                                  []FieldError
	Stale                                   bool
	Conflict                                []string

	Date               Field
	Site               Choice
	From, To           Field
	FromWhich, ToWhich *Choice // asked on the night the clocks are set back
	Guests             Field
	Audience, Block    Choice
	Name, Seeing       Field
	Notes              Field
	Sky                []Row
}

// ChooseModel is the page on which gear, targets and crew are chosen.
type ChooseModel struct {
	Over, Title, Lead string
	Tabs              []Link
	Action, Version   string
	Faults            []FieldError
	Stale             bool
	Kinds             []GearKind
	Query             string
	Find              string // address that answers what is found, for htmx
	Found             []TargetRow
	Searched          bool
	Targets           []TargetRow
	Crew              []CrewRow
}

// GearKind is the gear of one kind, to be ticked.
type GearKind struct {
	Title string
	Items []Check
}

// TargetRow is one target that may be shown.
type TargetRow struct {
	ID, Name, Also, Kind string
	Opens, Closes        string // altitude at both ends of the public hours
	Best                 string // highest altitude and when
	State                string // word that warns: "not up", "low"
	Show, Must           bool
}

// CrewRow is one volunteer and the answer for the night.
type CrewRow struct {
	ID, Name, Note string
	Answer         Choice
	From, To       Field
}

// CrewForm is the page to add or change a volunteer.
type CrewForm struct {
	Title, Action, Version, Another string
	Retire, Restore, Link, Data     string
	Faults                          []FieldError
	Stale                           bool
	Conflict                        []string

	Name, Email, Phone      Field
	Share, Minor            Check
	Roles, Limits, Brings   Checks
	Languages, Drive, Notes Field
	Skills                  []Choice
}
