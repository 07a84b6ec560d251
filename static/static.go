// Package static holds the files that a browser asks for: styles, scripts and
// fonts, embedded so that the program is one file.
package static

import "embed"

// Files are served under /static/.
//
//go:embed css js fonts
var Files embed.FS
