package web

import (
	"encoding/json"
	"hash/fnv"
	"strconv"

	"duskboard/internal/night"
)

// fingerprint is a short text that changes whenever anything in a plan does.
// It hashes the whole plan: that is a tenth of a millisecond, and no part can
// be forgotten.
func fingerprint(p night.Plan, own []night.OwnTarget) string {
	h := fnv.New128a()
	e := json.NewEncoder(h)
	if err := e.Encode(p); err != nil {
		return "" // matches nothing that was kept
	}
	// An own target's numbers may be unknown (NaN), which JSON cannot write:
	// its id and version say as much.
	for _, o := range own {
		_ = e.Encode([]any{o.ID, o.Version})
	}
	return strconv.Quote(string(h.Sum(nil)))
}
