package catalog

import (
	"embed"
)

//go:embed data
var data embed.FS

//go:embed derive/LICENSE-d3-celestial.txt
var notice string

// Notice is the copyright notice of the derived data, which whoever passes the
// program on must pass on too.
func Notice() string { return notice }

//go:embed words
var words embed.FS
