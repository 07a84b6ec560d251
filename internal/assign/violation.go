package assign

import "fmt"

// Kind says which rule a plan breaks, or why a pin was not honoured.
type Kind int

// The kinds.
const (
	NoSuchThing     Kind = iota + 1 // a pin or a choice names an agent, an option or a block that is not there
	NotPossible                     // the option has no value in the block
	Absent                          // the agent is out
	Forbidden                       // a forbid says no
	OverCapacity                    // more units taken than there are
	RunTooShort                     // a run shorter than the option's least length
	RunTooLong                      // a run longer than the option's longest
	TooManyRuns                     // more runs than the agent's most
	NoBreak                         // busy for too many blocks without an idle one
	BreakTooShort                   // an idle spell between runs that is too short
	ChangeForbidden                 // a change of class that costs +Inf
	PinNotKept                      // a pin says otherwise
	PinsClash                       // two pins want different options at one time
	NoRoom                          // the run and break rules leave no way to keep the pin
)

var kindNames = map[Kind]string{
	NoSuchThing: "no such thing", NotPossible: "not possible", Absent: "absent", Forbidden: "forbidden",
	OverCapacity: "over capacity", RunTooShort: "run too short", RunTooLong: "run too long",
	TooManyRuns: "too many runs", NoBreak: "no break", BreakTooShort: "break too short",
	ChangeForbidden: "change forbidden", PinNotKept: "pin not kept", PinsClash: "pins clash", NoRoom: "no room",
}

// String returns the kind in words.
func (k Kind) String() string {
	if s, ok := kindNames[k]; ok {
		return s
	}
	return fmt.Sprintf("kind %d", int(k))
}

// Violation is one broken rule. Fields that do not apply are -1.
type Violation struct {
	Kind     Kind
	Agent    int
	Option   int // Idle is also -1
	Span         // the blocks concerned
	Capacity int // with OverCapacity
	Pin      int // index in Problem.Pins, for pins
	Have     int // units taken, length of the run, number of runs
	Limit    int // what the rule allows
}

// String returns the violation with indices; callers that know names write
// their own sentence from the fields.
func (v Violation) String() string {
	s := fmt.Sprintf("%s: agent %d, option %d, blocks %d to %d", v.Kind, v.Agent, v.Option, v.From, v.To-1)
	if v.Pin >= 0 {
		s += fmt.Sprintf(", pin %d", v.Pin)
	}
	if v.Capacity >= 0 {
		s += fmt.Sprintf(", capacity %d", v.Capacity)
	}
	if v.Have != 0 || v.Limit != 0 {
		s += fmt.Sprintf(", %d against %d", v.Have, v.Limit)
	}
	return s
}

func violation(kind Kind, agent, option, from, to int) Violation {
	return Violation{Kind: kind, Agent: agent, Option: option, Span: Span{from, to}, Capacity: -1, Pin: -1}
}
