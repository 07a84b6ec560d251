package night

// Import is a night of a file, ready to become part of a club. What has a
// positive id is there already and stays as it is; an id below zero is new and
// only a name within the import, as is the id of an own target of version 0.
type Import struct {
	Plan
	TakeClub bool // the club takes its name, least altitude and word on ladders from the file
}
