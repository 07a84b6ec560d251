package web

import (
	"fmt"
	"net/http"
	"strconv"

	"duskboard/internal/fault"
)

// Retiring and taking back are buttons without a form to compare: the version
// that was looked at goes along in the address, so that a button on an old page
// does not undo what somebody else did since.

func retirePath(path string, version int64) string {
	return fmt.Sprintf("%s/retire?version=%d", path, version)
}

func restorePath(path string, version int64) string {
	return fmt.Sprintf("%s/restore?version=%d", path, version)
}

// seenVersion is the version that was looked at; without one, the page is too
// old to be followed.
func seenVersion(r *http.Request) (int64, error) {
	v, err := strconv.ParseInt(r.FormValue("version"), 10, 64)
	if err != nil {
		return 0, fault.New(fault.Conflict, "This button is from an older page. Load the page again, look, and press it there.")
	}
	return v, nil
}
