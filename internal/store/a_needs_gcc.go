//go:build !cgo

package store

// Without a C compiler there is no SQLite, and what the compiler says of that
// is a long list of names. This line stands first among them, since files are
// read in the order of their names.
const _ int = "Duskboard needs gcc for SQLite: install gcc (Debian: gcc, libc6-dev) and run this again"
