package web

import (
	"fmt"
	"math"
	"slices"
	"time"

	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/optics"
)

// ProgrammeFormat is the name and version that every programme.json carries.
// Fields are only ever added under one number; testdata/programme has the
// schema.
const ProgrammeFormat = "duskboard-programme/1"

// Programme is the public face of a night: what guests may know, and nothing
// about the people who run it.
type Programme struct {
	Format      string             `json:"format"`
	Language    string             `json:"language"` // of every text in it
	Club        string             `json:"club"`
	Night       ProgrammeNight     `json:"night"`
	Place       ProgrammePlace     `json:"place"`
	Status      string             `json:"status" jsonschema:"enum=planned,enum=on,enum=doubtful,enum=off"` // off: called off
	StatusText  string             `json:"statusText"`
	Instruments []ProgrammeTool    `json:"instruments"` // those that show something
	Showings    []ProgrammeShowing `json:"showings"`    // by start, then by instrument
	Bring       []string           `json:"bring"`
	HowToLook   []string           `json:"howToLook"`
	Cautions    []string           `json:"cautions"`
	Next        []ProgrammeNight   `json:"next"` // the club's next public nights
}

// ProgrammeNight is a night with its public hours.
type ProgrammeNight struct {
	ID   int64     `json:"id"`
	Name string    `json:"name"`
	Date string    `json:"date"` // of the evening, YYYY-MM-DD
	From time.Time `json:"from"` // UTC
	To   time.Time `json:"to"`
	Zone string    `json:"zone"` // IANA name of the site's clock
}

// ProgrammePlace is where to go.
type ProgrammePlace struct {
	Name      string  `json:"name"`
	Latitude  float64 `json:"latitude"`  // degrees, north positive, WGS 84
	Longitude float64 `json:"longitude"` // degrees, east positive
	Ground    string  `json:"ground,omitempty"`
}

// ProgrammeTool is an instrument as guests meet it.
type ProgrammeTool struct {
	ID         int64  `json:"id"`
	Name       string `json:"name"`
	Kind       string `json:"kind"`            // in words
	Stand      string `json:"stand,omitempty"` // number on the field, or what its owner calls the spot
	Place      string `json:"place,omitempty"` // where that is, in words
	Wheelchair string `json:"wheelchair" jsonschema:"enum=yes,enum=when set low,enum=some showings,enum=no"`
}

// ProgrammeShowing is one target at one instrument.
type ProgrammeShowing struct {
	From       time.Time       `json:"from"` // UTC
	To         time.Time       `json:"to"`
	Instrument int64           `json:"instrument"` // id of one in instruments
	Target     ProgrammeTarget `json:"target"`
	Access     ProgrammeAccess `json:"access"`
}

// ProgrammeTarget is what is shown, in the words for guests.
type ProgrammeTarget struct {
	ID          string `json:"id"`
	Name        string `json:"name"`
	Designation string `json:"designation,omitempty"` // "M 31"
	Kind        string `json:"kind"`
	Line        string `json:"line,omitempty"`
	Expect      string `json:"expect,omitempty"` // what it looks like
	Fact        string `json:"fact,omitempty"`
}

// ProgrammeAccess is how an eye gets to the eyepiece.
type ProgrammeAccess struct {
	EyepieceLow  float64 `json:"eyepieceLow"` // m over the ground
	EyepieceHigh float64 `json:"eyepieceHigh"`
	Adults       string  `json:"adults"` // "standing", "on a stool", "sitting" ...
	Children     string  `json:"children,omitempty"`
	Wheelchair   string  `json:"wheelchair" jsonschema:"enum=yes,enum=when set low,enum=no"`
	Text         string  `json:"text"` // the same as a sentence
}

// How many lines the language files have of each list.
const (
	howLines     = 5
	bringLines   = 4
	cautionLines = 6
)

// lines are the numbered texts of the language: "how.1", "how.2" and so on.
func (w *cardWords) lines(key string, n int) []string {
	out := make([]string, 0, n)
	for i := 1; i <= n; i++ {
		if t := w.say(fmt.Sprintf("%s.%d", key, i)); t != "" {
			out = append(out, t)
		}
	}
	return out
}

// programme is a night as guests may know it. next are the public nights after
// it.
func (c cardWriter) programme(next []publicNext) Programme {
	sh := c.sh
	p := Programme{
		Format: ProgrammeFormat, Language: c.w.Code, Club: sh.Club.Name, Night: programmeNight(sh.Night, sh.Site.Zone),
		Place:       ProgrammePlace{Name: sh.Site.Name, Latitude: round6(sh.Site.Place.Lat), Longitude: round6(sh.Site.Place.Lon), Ground: sh.Site.Ground},
		Status:      "planned",
		Instruments: []ProgrammeTool{}, Showings: []ProgrammeShowing{}, Next: []ProgrammeNight{},
		Bring: c.w.lines("bring", bringLines), HowToLook: c.w.lines("how", howLines), Cautions: c.w.lines("caution", cautionLines),
	}
	if d, ok := sh.Decided(); ok {
		// What the coordinator wrote beside the word is for the crew.
		p.Status = map[night.Word]string{night.WordGo: "on", night.WordDoubtful: "doubtful", night.WordOff: "off"}[d.Word]
	}
	p.StatusText = c.w.say("status." + p.Status)
	for _, inst := range sh.Kit.Instruments {
		tool := ProgrammeTool{ID: inst.ID, Name: inst.Name, Kind: c.instrument(inst), Stand: c.stand(inst), Place: c.place(inst)}
		var reach []string
		for _, s := range sh.Showings {
			if s.InstrumentID != inst.ID {
				continue
			}
			if x, ok := c.programmeShowing(inst, s); ok {
				p.Showings = append(p.Showings, x)
				reach = append(reach, x.Access.Wheelchair)
			}
		}
		if len(reach) > 0 {
			tool.Wheelchair = allOrSome(reach)
			p.Instruments = append(p.Instruments, tool)
		}
	}
	slices.SortStableFunc(p.Showings, func(a, b ProgrammeShowing) int { return a.From.Compare(b.From) })
	for _, n := range next {
		p.Next = append(p.Next, programmeNight(n.Night, n.zone))
	}
	return p
}

// publicNext is a public night with its site's zone.
type publicNext struct {
	night.Night
	zone string
}

func programmeNight(n night.Night, zone string) ProgrammeNight {
	return ProgrammeNight{ID: n.ID, Name: n.Name, Date: n.Date.String(), From: n.PublicFrom.UTC(), To: n.PublicTo().UTC(), Zone: zone}
}

// round6 keeps a tenth of a metre of a place.
func round6(deg float64) float64 { return math.Round(deg*1e6) / 1e6 }

// round2 keeps a centimetre of a height.
func round2(m float64) float64 { return math.Round(m*100) / 100 }

// allOrSome is an instrument's word on wheelchairs from those of its showings.
func allOrSome(words []string) string {
	if !slices.ContainsFunc(words, func(w string) bool { return w != words[0] }) {
		return words[0]
	}
	return "some showings"
}

// programmeShowing tells a showing to guests; false when its gear or target is
// no longer there.
func (c cardWriter) programmeShowing(inst kit.Instrument, s lineup.Showing) (ProgrammeShowing, bool) {
	v := c.sh.Input.ViewOf(c.fits, s)
	listed, ok := c.sh.Target(s.TargetID)
	if !ok || !v.Known {
		return ProgrammeShowing{}, false
	}
	t := c.w.target(listed)
	x := ProgrammeShowing{From: s.From.UTC(), To: s.To().UTC(), Instrument: inst.ID,
		Target: ProgrammeTarget{ID: t.ID, Name: t.Name, Designation: firstDesignation(t), Kind: c.w.kind(t.Kind), Line: t.Words.Line, Expect: t.Words.Expect},
		Access: c.access(v)}
	if f := c.facts(t, s.From.Add(s.Length/2)); len(f) > 0 {
		x.Target.Fact = f[0]
	}
	return x, true
}

// access is how guests get an eye to the eyepiece of a view.
func (c cardWriter) access(v lineup.View) ProgrammeAccess {
	crowd := c.sh.Input.Crowd
	a := ProgrammeAccess{EyepieceLow: round2(v.HeightLow), EyepieceHigh: round2(v.HeightTop),
		Adults: string(optics.ReachFor(v.HeightTop, crowd.EyeHeight).Stand), Wheelchair: wheelchair(v), Text: c.height(v)}
	if crowd.ChildHeight > 0 {
		a.Children = string(optics.ReachFor(v.HeightTop, crowd.ChildHeight).Stand)
	}
	return a
}

// wheelchair is the word on a guest in a wheelchair at a view.
func wheelchair(v lineup.View) string {
	h := optics.HeightsOver(v.Train.Instrument, v.AtStart.AltRefracted, v.AtEnd.AltRefracted)
	switch verdict, _ := optics.Wheelchair(h); {
	case verdict == optics.OK:
		return "yes"
	case verdict == optics.Note && h.Adjustable:
		return "when set low"
	}
	return "no"
}
