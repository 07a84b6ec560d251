package web

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"duskboard/internal/crew"
	"duskboard/internal/exchange"
	"duskboard/internal/kit"
)

// exportCrew writes the volunteers as the import of the crew reads them.
func (s *server) exportCrew(w http.ResponseWriter, r *http.Request) error {
	all, err := s.store.Volunteers(r.Context())
	if err != nil {
		return err
	}
	gear, err := s.store.Kit(r.Context(), true)
	if err != nil {
		return err
	}
	head := strings.Split(strings.TrimSpace(strings.SplitN(crew.Template, "\n", 2)[0]), ",")
	var rows [][]string
	for _, v := range all {
		if v.Forgotten || v.Retired {
			continue
		}
		cells := crewCells(v, gear.Instruments)
		row := make([]string, len(head))
		for i, h := range head {
			row[i] = cells[h]
		}
		rows = append(rows, row)
	}
	var b strings.Builder
	err = exchange.WriteTable(&b, head, rows, func(i int) bool { return head[i] == "drive minutes" })
	if err != nil {
		return err
	}
	return sendCSV(w, "volunteers.csv", []byte(b.String()))
}

func crewCells(v crew.Volunteer, instruments []kit.Instrument) map[string]string {
	var roles, operates, limits []string
	for _, x := range v.Roles {
		roles = append(roles, string(x))
	}
	for _, k := range v.Skills {
		what := k.Mount
		for _, i := range instruments {
			if i.ID == k.InstrumentID {
				what = i.Name
			}
		}
		operates = append(operates, what+": "+string(k.Level))
	}
	for _, l := range []struct {
		on   bool
		word string
	}{{v.Limits.NoLifting, "no lifting"}, {v.Limits.NoLadder, "no ladder"}, {v.Limits.MustSit, "must sit"}, {v.Limits.NoNightDriving, "no night driving"}} {
		if l.on {
			limits = append(limits, l.word)
		}
	}
	drive := ""
	if v.DriveMinutes > 0 {
		drive = strconv.Itoa(v.DriveMinutes)
	}
	return map[string]string{
		"name": v.Name, "email": v.Email, "phone": v.Phone, "share contact": yesNoCell(v.Share), "under age": yesNoCell(v.Minor),
		"roles": strings.Join(roles, "; "), "operates": strings.Join(operates, "; "), "limits": strings.Join(limits, "; "),
		"languages": strings.Join(slices.Clone(v.Languages), "; "), "drive minutes": drive, "notes": v.Notes,
	}
}
