package web

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"duskboard/internal/fault"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// placeForm is the table of places as typed, by instrument id.
type placeForm map[int64]placeRow

type placeRow struct {
	Number, East, North, Queue, Pinned string
}

func (row placeRow) empty() bool { return row.Number == "" && row.East == "" && row.North == "" }

func placeName(field string, id int64) string { return field + "." + strconv.FormatInt(id, 10) }

func readPlaceForm(r *http.Request, sh *night.Sheet) placeForm {
	f := placeForm{}
	for _, i := range sh.Kit.Instruments {
		v := func(field string) string { return strings.TrimSpace(r.PostFormValue(placeName(field, i.ID))) }
		f[i.ID] = placeRow{v("Number"), v("East"), v("North"), v("Queue"), v("Pinned")}
	}
	return f
}

func placeFormOf(sh *night.Sheet) placeForm {
	f := placeForm{}
	for _, p := range sh.Places {
		row := placeRow{strconv.Itoa(p.Number), number(p.At.X, 1), number(p.At.Y, 1), number(p.Queue, 1), ""}
		if p.Pinned {
			row.Pinned = "1"
		}
		f[p.InstrumentID] = row
	}
	return f
}

// parse turns the rows into places; an empty row takes a place away. Names of
// faults are those of the fields.
func (f placeForm) parse(sh *night.Sheet) (places []ground.Place, faults fault.Fields) {
	taken := map[int]string{}
	for _, i := range sh.Kit.Instruments {
		row := f[i.ID]
		if row.empty() {
			continue
		}
		p, bad := row.parse(i.ID)
		if other, ok := taken[p.Number]; ok && p.Number > 0 {
			bad = append(bad, fault.Field{Name: placeName("Number", i.ID), Message: fmt.Sprintf("%s has number %d already.", other, p.Number)})
		}
		taken[p.Number] = i.Name
		faults = append(faults, bad...)
		places = append(places, p)
	}
	return places, faults
}

func (row placeRow) parse(id int64) (p ground.Place, faults fault.Fields) {
	p = ground.Place{InstrumentID: id, Pinned: row.Pinned != ""}
	add := func(field, message string) {
		faults = append(faults, fault.Field{Name: placeName(field, id), Message: message})
	}
	n, err := strconv.Atoi(row.Number)
	if err != nil || n < 1 || n > ground.MostNumber {
		add("Number", fmt.Sprintf("A whole number from 1 to %d.", ground.MostNumber))
	}
	p.Number = n
	for _, x := range []struct {
		field, raw string
		to         *float64
	}{{"East", row.East, &p.At.X}, {"North", row.North, &p.At.Y}} {
		v, err := kit.ParseNumber(x.raw)
		if err != nil || !(math.Abs(v) <= ground.Widest) {
			add(x.field, fmt.Sprintf("Metres, from -%.0f to %.0f.", ground.Widest, ground.Widest))
			continue
		}
		*x.to = v
	}
	if row.Queue != "" {
		v, err := kit.ParseNumber(row.Queue)
		if err != nil || !(v >= 0 && v < 360) {
			add("Queue", "Degrees from north through east, 0 to 359.")
		} else {
			p.Queue = v
		}
	}
	return p, faults
}

// view is the table with what was typed and what is known of each place.
func (f placeForm) view(sh *night.Sheet, l *ground.Layout) (rows []views.PlaceRow, list []views.FieldError) {
	_, faults := f.parse(sh)
	for _, s := range l.Stands {
		row := f[s.ID]
		field := func(name, label, value string) views.Field {
			n := placeName(name, s.ID)
			if w := faults.For(n); w != "" {
				list = append(list, views.FieldError{Name: n, Label: s.Name + ", " + strings.ToLower(label), Message: w})
			}
			return views.Field{Name: n, Label: label + " of " + s.Name, Value: value, Error: faults.For(n), Mode: "decimal"}
		}
		x := views.PlaceRow{
			ID: s.ID, Name: s.Name, Number: field("Number", "Number", row.Number), East: field("East", "Metres east", row.East), North: field("North", "Metres north", row.North),
			Queue:  views.Choice{Name: placeName("Queue", s.ID), Label: "Line of " + s.Name + " goes", Value: row.Queue, Options: queueOptions(row.Queue), Error: faults.For(placeName("Queue", s.ID))},
			Pinned: views.Check{Name: placeName("Pinned", s.ID), Label: "Keep " + s.Name + " there", Checked: row.Pinned != ""},
			Needs:  standWords(s),
		}
		if p, ok := sh.PlaceOf(s.ID); ok {
			x.Where = first(whereWords(l, p)) + "."
		}
		rows = append(rows, x)
	}
	return rows, list
}

// queueOptions are sixteen directions, and the present one when it is between.
func queueOptions(now string) []views.Option {
	var out []views.Option
	found := now == ""
	for i, w := range directions {
		v := number(float64(i)*22.5, 1)
		found = found || v == now
		out = append(out, views.Option{Value: v, Text: w})
	}
	if !found {
		out = append(out, views.Option{Value: now, Text: now + "°"})
	}
	return out
}

// standWords says what an instrument needs of its place.
func standWords(s ground.Stand) string {
	words := fmt.Sprintf("Circle %.1f m across", 2*s.Radius)
	if s.Assumed {
		words += " (usual for its height)"
	}
	switch s.Step {
	case ground.Ladder:
		words += ", a ladder"
	case ground.Stool:
		words += ", a step"
	}
	if s.Access > 0 {
		words += fmt.Sprintf(", seated guests for %.0f %% of its time", 100*s.Access)
	}
	if s.Mains {
		words += ", a cable"
	}
	if low := lowestLook(s); low != "" {
		words += ", " + low
	}
	return words + "."
}

// lowestLook names the lowest target of an instrument, when it is low.
func lowestLook(s ground.Stand) string {
	const low = 30.0
	words, least := "", low
	for _, t := range s.Sights {
		for _, k := range t.Looks {
			if k.Alt < least {
				least = k.Alt
				words = fmt.Sprintf("%s low in the %s (%.0f°)", t.Target, directionWord(k.Az), k.Alt)
			}
		}
	}
	return words
}
