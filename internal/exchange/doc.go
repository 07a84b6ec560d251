// Package exchange reads and writes what a club has as spreadsheets and as one
// JSON document.
//
// The reader is kind: UTF-8 with or without a byte-order mark, commas,
// semicolons or tabs, decimal commas, lengths in inches. It is strict about
// meaning: every fault is named by its row and column, and on any fault nothing
// is returned. The writer follows RFC 4180 and takes the bite out of cells that
// a spreadsheet would run as formulas.
package exchange
