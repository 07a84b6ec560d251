// Package static holds the files that a browser asks for: styles, scripts,
// drawings and fonts, embedded so that the program is one file.
package static

import "embed"

// Files are served under /static/; css/*.css is joined into one file there.
//
//go:embed css js fonts img
var Files embed.FS
