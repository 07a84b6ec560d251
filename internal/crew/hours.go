package crew

import (
	"sort"
	"time"
)

// Hours is what one person served over a season.
type Hours struct {
	VolunteerID int64
	Name        string
	Nights      int
	Total       time.Duration
	ByRole      map[Role]time.Duration
}

// Sum adds up duties by person, the longest first; equal ones by name. People
// who were forgotten are one line each, as their duties stay apart.
func Sum(ds []Served) []Hours {
	at := map[int64]int{}
	nights := map[[2]int64]bool{}
	var out []Hours
	for _, d := range ds {
		i, ok := at[d.VolunteerID]
		if !ok {
			i = len(out)
			at[d.VolunteerID] = i
			out = append(out, Hours{VolunteerID: d.VolunteerID, Name: d.Name, ByRole: map[Role]time.Duration{}})
		}
		out[i].Total += d.Length
		out[i].ByRole[d.Role] += d.Length
		if key := [2]int64{d.VolunteerID, d.NightID}; !nights[key] {
			nights[key] = true
			out[i].Nights++
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		if out[i].Total != out[j].Total {
			return out[i].Total > out[j].Total
		}
		return out[i].Name < out[j].Name
	})
	return out
}
