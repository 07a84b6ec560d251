package night

import (
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/kit"
)

// BinKept is how long a thing lies in the bin before it is deleted for good.
const BinKept = 30 * 24 * time.Hour

// BinKind says what lies in the bin.
type BinKind string

// What can lie in the bin.
const (
	BinGear      BinKind = "gear"
	BinSite      BinKind = "site"
	BinNight     BinKind = "night"
	BinVolunteer BinKind = "volunteer"
	BinTarget    BinKind = "target"
	BinSatellite BinKind = "satellite"
	BinLineUp    BinKind = "line-up"
)

// BinKinds lists them.
var BinKinds = []BinKind{BinNight, BinSite, BinGear, BinVolunteer, BinTarget, BinSatellite, BinLineUp}

// Binned is one thing in the bin.
type Binned struct {
	Kind BinKind
	Ref  int64 // its id among its kind
	Name string
	At   time.Time // when it was put there, UTC
	Who  string    // who did; empty when nobody was signed in
	// Held says what still needs it, as "2 nights"; while that is so it is not
	// deleted, however long it has been there. Empty when nothing does.
	Held string
	// Barred says why it cannot be taken back; empty when it can.
	Barred string
}

// Ends returns when it is deleted, as long as nothing needs it.
func (b Binned) Ends() time.Time { return b.At.Add(BinKept) }

// ClubEntry is one line of the history of the club as a whole.
type ClubEntry struct {
	At   time.Time // UTC
	Who  string
	What string
}

// ImportEntry is one import that can still be taken back.
type ImportEntry struct {
	ID   int64
	At   time.Time // UTC
	Who  string
	What string
}

// Batch is what one import saves, all of it or nothing. A thing whose ID is
// positive changes the row of that id, if its version is still the present
// one; any other is new. Kit is as the store's ImportKit takes it. Volunteers
// are always new: a list that comes in changes nobody who is there.
type Batch struct {
	Kit        kit.Kit
	Sites      []Site
	Nights     []Night
	Targets    []OwnTarget
	Volunteers []crew.Volunteer
}
