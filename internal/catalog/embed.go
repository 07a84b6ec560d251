package catalog

import "embed"

//go:embed data
var data embed.FS

//go:embed words
var words embed.FS
