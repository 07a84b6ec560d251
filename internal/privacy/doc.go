// Package privacy says in plain words what the program keeps about people, why,
// who sees it and for how long. It is one table, entry by entry as the tables
// of the database are: a test of the store walks the schema and fails for a
// column that stands in no entry. The page about privacy, the file about one
// person and the file with everything are made from it.
//
// Whoever adds a table or a column adds it here, and says whether it tells
// something about somebody.
package privacy
