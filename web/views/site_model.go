package views

// SiteListModel is the list of places.
type SiteListModel struct {
	Table   Table
	Retired []RetiredPiece
}

// SiteForm is the page to add or change a site.
type SiteForm struct {
	Title, Action, Version string
	Retire, Restore        string
	GroundHref             string // the plan of the ground; "" while the site is new
	Faults                 []FieldError
	Stale                  bool
	Conflict               []string

	Name, Lat, Lon, Elev, Zone Field
	Zones                      []string
	Horizon                    Field
	Drawing                    HorizonDrawing
	Measured                   Field
	Step                       Choice
	Ground, Notes              Field
	Power, Ladders             Check
}

// HorizonDrawing is an outline as one looks around, in a box 360 wide: one unit
// a degree of azimuth, two a degree of altitude.
type HorizonDrawing struct {
	Height, Bottom float64
	Land           string // path
	Levels         []Level
	Sides          []Bearing
	Words          string // the same in a sentence
	Fault          string // what could not be drawn
}

// Level is a line of equal altitude.
type Level struct{ Y, Label string }

// Bearing is a direction below the drawing.
type Bearing struct{ X, Name string }
