package weather

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"time"
)

// Mark tells two states of a night's weather apart: equal weather has equal
// marks. It is never empty, so that a form always carries one.
func (s Series) Mark() string {
	if s.Empty() {
		return "none"
	}
	sum := sha256.New()
	fmt.Fprintf(sum, "%q %q %d %q\n", s.Source, s.Attribution, s.IssuedAt.Unix(), s.Notes)
	for _, h := range s.Hours {
		at := h.Time.Unix()
		h.Time = time.Time{} // its text depends on the zone it was read in
		fmt.Fprintf(sum, "%d %v\n", at, h)
	}
	return hex.EncodeToString(sum.Sum(nil)[:8])
}
