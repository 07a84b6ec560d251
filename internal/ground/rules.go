package ground

// Distances in m and what they rest on. "cp" is common practice of clubs; a
// club's own rules, the owner's and the local ones for accessibility and
// escape go before every one of them.
const (
	standing   = 1.0  // around legs or base: operator and guest at the eyepiece (cp)
	touching   = 0.3  // legs nearer than this are knocked into each other (cp)
	edgeRoom   = 1.0  // from the outline: nobody backs into a ditch or a fence (cp)
	gateRoom   = 3.0  // an ambulance gets in (cp; local fire rules go first)
	pathRoom   = 0.5  // from legs to the edge of a path (cp)
	solidRoom  = 0.5  // from legs to a trunk, a wall, a bed (cp)
	ladderRoom = 1.5  // free around a ladder, for the one who holds it (cp)
	ladderFoot = 0.4  // from the circle of legs to the ladder's middle (cp)
	lampRoom   = 25.0 // from a bare white lamp (cp: where a bulb in sight spoils the eye's dark adaptation)
	longCable  = 25.0 // one reel; more lies about and loses voltage (cp)
	cableRoom  = 0.2  // from legs

	perGuest      = 0.8 // of queue for one guest, families close up (cp)
	halfLine      = 0.5 // half the width of a queue
	fewestWaiting = 3
	mostWaiting   = 12 // a longer line is folded or sent elsewhere (cp)

	lowSky    = 30.0 // degrees: below it a target needs the free side (cp)
	freeSky   = 8.0  // degrees of sky between a hedge and a target that are felt as free (cp)
	nearPath  = 3.0  // m from a hard path that a wheelchair can be helped over grass (cp)
	lampEvery = 10.0 // m between red lamps along a path (cp)
)

// Published widths of a path for wheelchairs, m. The 2010 ADA Standards for
// Accessible Design want 36 in (915 mm) clear (403.5.1); where it is less than
// 60 in, a passing space of 60 by 60 in every 200 ft (403.5.3), which a plan
// does not ask for; 60 in (1525 mm) for a turning circle (304.3.1). Read in the
// public text and held by ada_test.go. ISO 21542:2011 wants 1.2 m for a path
// little used and 1.5 m where people meet now and then (from memory). Slopes
// (403.3: 1 in 20 along, 1 in 48 across; from memory along) are not on the
// plan. Local rules go first.
const (
	NarrowestPath = 0.915
	GoodPath      = 1.2
	TurningCircle = 1.525
)

// Key names a rule.
type Key string

// The rules, in the order in which faults are told.
const (
	Unplaced   Key = "unplaced"
	Outside    Key = "outside"     // or too near the edge
	InWay      Key = "in-way"      // on or against something solid
	AtGate     Key = "at-gate"     // the gate must stay free
	OnPath     Key = "on-path"     // legs on a path
	Overlap    Key = "overlap"     // two circles
	QueueCross Key = "queue-cross" // two queues
	QueuePath  Key = "queue-path"  // a queue over a path
	QueueRoom  Key = "queue-room"  // a queue through something, or off the ground
	QueueCable Key = "queue-cable"
	LadderRoom Key = "ladder-room" // ladder near a path, a queue, a cable, another instrument
	CablePath  Key = "cable-path"
	CableLegs  Key = "cable-legs"
	CableLong  Key = "cable-long"
	Hidden     Key = "hidden" // an obstacle before a target
	Access     Key = "access" // the accessible instrument far from the path
	NoAccess   Key = "no-access"
	NarrowPath Key = "narrow-path"
	Glare      Key = "glare"
)

// weights say how much a fault costs in the search, the whole of it: a fault
// that is only begun costs part. Hazards come first, then what makes a showing
// impossible, then comfort. The wishes of wish.go cost less than any of them.
var weights = map[Key]float64{
	Outside: 400, InWay: 400, AtGate: 200, OnPath: 200, Overlap: 300,
	QueueCross: 120, QueuePath: 100, QueueRoom: 100, QueueCable: 80,
	LadderRoom: 120, CablePath: 80, CableLegs: 80, CableLong: 40,
	Hidden: 90, Access: 60, Glare: 40,
}

// hazard tells what can hurt somebody from what only spoils the night.
var hazard = map[Key]bool{
	AtGate: true, OnPath: true, QueuePath: true, QueueCable: true, LadderRoom: true, CablePath: true, CableLegs: true, NarrowPath: true,
}
