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
func fingerprint(p night.Plan) string {
	h := fnv.New128a()
	if err := json.NewEncoder(h).Encode(p); err != nil {
		return "" // matches nothing that was kept
	}
	return strconv.Quote(string(h.Sum(nil)))
}
