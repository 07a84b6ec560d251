package crew

import "time"

// Level is how well someone runs an instrument or mount.
type Level string

// Levels, lowest first.
const (
	Learning Level = "learning"
	Alone    Level = "alone"
	Teacher  Level = "can-teach"
)

// Role is a kind of duty.
type Role string

// Roles on a public night.
const (
	Operator           Role = "operator"
	Greeter            Role = "greeter"
	QueueHost          Role = "queue-host"
	ConstellationGuide Role = "constellation-guide"
	Parking            Role = "parking"
	Safety             Role = "safety"
	SetUp              Role = "set-up"
	PackDown           Role = "pack-down"
)

// Roles lists every role in the order in which a form offers them.
var Roles = []Role{Operator, Greeter, QueueHost, ConstellationGuide, Parking, Safety, SetUp, PackDown}

// Skill is what someone can operate: one instrument, or every instrument on a
// kind of mount.
type Skill struct {
	InstrumentID int64  // 0 when the skill is for a mount
	Mount        string // kit.Mount; "" when the skill is for one instrument
	Level        Level
}

// Limits are what someone cannot do; nobody has to say why.
type Limits struct {
	NoLifting      bool
	NoLadder       bool
	MustSit        bool
	NoNightDriving bool
}

// Volunteer is a member of the crew.
type Volunteer struct {
	ID           int64
	Version      int64
	Name         string // as they wish to be shown
	Email        string // private unless Share
	Phone        string // private unless Share
	Share        bool   // contact may be shown to the rest of the crew
	Minor        bool
	Skills       []Skill
	Roles        []Role
	Limits       Limits
	Languages    []string
	DriveMinutes int     // usual drive to the site
	Brings       []int64 // gear that they bring as a rule, theirs or the club's
	Notes        string
	Retired      bool
	Forgotten    bool // asked to be: only past duties are left, without a name
}

// Answer is what someone said about a night.
type Answer string

// Answers. NoAnswer is the zero value.
const (
	NoAnswer Answer = ""
	Yes      Answer = "yes"
	No       Answer = "no"
	Maybe    Answer = "maybe"
)

// Availability is one volunteer's answer for one night.
type Availability struct {
	VolunteerID  int64
	Answer       Answer
	From, To     time.Time // UTC; zero means the whole night
	DriveMinutes int       // to this site; 0 means the volunteer's usual
	Wishes       string
}

// Duty is one person's task over a span of the night.
type Duty struct {
	ID           int64
	VolunteerID  int64
	Role         Role
	InstrumentID int64     // for operators; 0 otherwise
	From         time.Time // UTC
	Length       time.Duration
	Pinned       bool
}

// Link is a personal link that is good. The link itself is not kept, only a
// hash of its token.
type Link struct {
	VolunteerID int64
	Made        time.Time // UTC
	Used        time.Time // UTC; zero when it was not yet
}

// To returns the end of the duty.
func (d Duty) To() time.Time { return d.From.Add(d.Length) }
