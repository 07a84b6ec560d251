package demo

import (
	"duskboard/internal/night"
	"duskboard/internal/sky"
)

// sites are two invented fields, one in each hemisphere.
func sites() []night.Site {
	return []night.Site{
		{
			Name: "Heron Meadow", Zone: "Europe/Berlin",
			Place:      sky.Place{Lat: 50.08, Lon: 9.31, Elev: 190},
			Horizon:    sky.Horizon{{Az: 0, Alt: 6}, {Az: 60, Alt: 4}, {Az: 95, Alt: 12}, {Az: 130, Alt: 8}, {Az: 180, Alt: 5}, {Az: 235, Alt: 14}, {Az: 270, Alt: 16}, {Az: 300, Alt: 9}},
			Brightness: 20.6, Ground: "level grass; hard path from the gate to stand 2", Ladders: true,
			Notes: "Poplars in the west. The lamp at the boathouse: the key is with the warden.",
		},
		{
			Name: "Kestrel Hill", Zone: "Australia/Melbourne",
			Place:      sky.Place{Lat: -36.92, Lon: 146.21, Elev: 410},
			Horizon:    sky.Horizon{{Az: 0, Alt: 5}, {Az: 90, Alt: 3}, {Az: 180, Alt: 8}, {Az: 270, Alt: 4}},
			Brightness: 21.5, Ground: "gravel, gentle slope", Ladders: true,
		},
	}
}
