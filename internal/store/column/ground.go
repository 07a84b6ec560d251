package column

type (
	// Ground is a ground as it was before a change, or NULL.
	Ground = Object[GroundState]
	// Places are the places of a night as they were after a change.
	Places = List[Place]
)

// GroundState is a ground as it was.
type GroundState struct {
	Outline  [][2]float64 `json:"outline"`
	Features []Feature    `json:"features"`
}

// Feature is one thing on a ground that was. Lengths in m.
type Feature struct {
	Kind   string       `json:"kind"`
	Name   string       `json:"name"`
	Points [][2]float64 `json:"points"`
	Radius float64      `json:"radius"`
	Width  float64      `json:"width"`
	Height float64      `json:"height"`
	Wheels bool         `json:"wheels"`
}

// Place is one place that was: m east and north, degrees.
type Place struct {
	Instrument int64   `json:"instrument"`
	Number     int     `json:"number"`
	X          float64 `json:"x"`
	Y          float64 `json:"y"`
	Queue      float64 `json:"queue"`
	Pinned     bool    `json:"pinned"`
}
