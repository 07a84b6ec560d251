package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/optics"
)

// lineUpAnswer is the contract of "duskboard lineup --json": names and meaning
// stay. Instants are RFC 3339 in UTC; fits and factors run from 0 to 1.
type lineUpAnswer struct {
	Format   string           `json:"format"`
	Night    lineUpNight      `json:"night"`
	LineUp   lineUpBody       `json:"lineUp"`
	Fits     []fitAnswer      `json:"fits"`
	Duties   []dutyAnswer     `json:"duties"`
	Gaps     []string         `json:"gaps,omitempty"` // duties that nobody can take
	CoolDown []coolAnswer     `json:"coolDown"`
	Dew      []dewAnswer      `json:"dew"`
	Notes    []string         `json:"notes,omitempty"`
	Cautions []cautionsAnswer `json:"cautions,omitempty"`

	sheet *night.Sheet
}

// lineUpFormat names the answer and its version.
const lineUpFormat = "duskboard-lineup/1"

type lineUpNight struct {
	Name         string  `json:"name"`
	Date         string  `json:"date"`
	Site         string  `json:"site"`
	Zone         string  `json:"zone"`
	PublicFrom   instant `json:"publicFrom"`
	PublicTo     instant `json:"publicTo"`
	BlockMinutes float64 `json:"blockMinutes"`
	Guests       int     `json:"guests"`
	Audience     string  `json:"audience"`
}

// lineUpBody is the line-up itself. Score, bound and gap count good looks.
type lineUpBody struct {
	Score     float64         `json:"score"`
	Bound     float64         `json:"bound"`
	Gap       float64         `json:"gap"`
	Stopped   bool            `json:"stopped,omitempty"`
	Showings  []showingAnswer `json:"showings"`
	Conflicts []string        `json:"conflicts"`
	LeftOut   []leftAnswer    `json:"leftOut"`
	NotShown  []leftAnswer    `json:"notShown"`
	Parked    []parkedAnswer  `json:"parked"`
	Guests    guestsAnswer    `json:"guests"`
}

type showingAnswer struct {
	Instrument    int64          `json:"instrument"`
	InstrumentIs  string         `json:"instrumentName"`
	Target        string         `json:"target"`
	TargetIs      string         `json:"targetName"`
	From          instant        `json:"from"`
	Minutes       float64        `json:"minutes"`
	Local         string         `json:"local"`
	Gear          trainAnswer    `json:"gear"`
	Fit           float64        `json:"fit"`
	Weakest       string         `json:"weakest"`
	AltitudeStart number         `json:"altitudeStart"`
	AltitudeEnd   number         `json:"altitudeEnd"`
	EyepieceLow   number         `json:"eyepieceHeightLow"`
	EyepieceHigh  number         `json:"eyepieceHeightHigh"`
	Reach         string         `json:"reach"`
	LookSeconds   number         `json:"lookSeconds"`
	Looks         number         `json:"looks"`
	Pinned        bool           `json:"pinned,omitempty"`
	Backup        string         `json:"backup,omitempty"`
	Factors       []factorAnswer `json:"factors"`
}

// trainAnswer is an optical train with its plain numbers.
type trainAnswer struct {
	Words         string   `json:"words"`
	Eyepiece      int64    `json:"eyepiece,omitempty"`
	Amplifier     int64    `json:"amplifier,omitempty"`
	Diagonal      int64    `json:"diagonal,omitempty"`
	Filter        int64    `json:"filter,omitempty"`
	Magnification number   `json:"magnification"`
	TrueField     number   `json:"trueFieldDeg"`
	FieldFrom     string   `json:"trueFieldFrom"`
	ExitPupil     number   `json:"exitPupilMm"`
	Assumed       []string `json:"assumed,omitempty"`
}

type factorAnswer struct {
	Factor   string `json:"factor"`
	Value    number `json:"value"`
	Number   number `json:"number"`
	Unit     string `json:"unit,omitempty"`
	Wanted   string `json:"wanted,omitempty"`
	Sentence string `json:"sentence"`
	Veto     bool   `json:"veto,omitempty"`
	Assumed  bool   `json:"assumed,omitempty"`
}

// fitAnswer is one target at one instrument in its best block, or where the
// target stands highest when none is possible.
type fitAnswer struct {
	Instrument int64          `json:"instrument"`
	Target     string         `json:"target"`
	Fit        number         `json:"fit"`
	At         instant        `json:"at"`
	From       instant        `json:"possibleFrom"`
	To         instant        `json:"possibleTo"`
	Gear       *trainAnswer   `json:"gear"`
	Veto       string         `json:"veto,omitempty"`
	VetoBy     string         `json:"vetoBy,omitempty"`
	Better     string         `json:"better,omitempty"`
	Factors    []factorAnswer `json:"factors,omitempty"`
}

type leftAnswer struct {
	Instrument int64  `json:"instrument,omitempty"`
	Target     string `json:"target,omitempty"`
	Reason     string `json:"reason"`
}

type parkedAnswer struct {
	Instrument int64   `json:"instrument"`
	From       instant `json:"from"`
	To         instant `json:"to"`
	Reason     string  `json:"reason"`
}

type guestsAnswer struct {
	Looks       number   `json:"looks"`
	PerGuest    number   `json:"perGuest"`
	MeanWait    number   `json:"meanWaitMinutes"`
	LongestWait number   `json:"longestWaitMinutes"`
	Short       bool     `json:"short"`
	Proposals   []string `json:"proposals,omitempty"`
}

type dutyAnswer struct {
	Volunteer  int64   `json:"volunteer"`
	Name       string  `json:"name"`
	Role       string  `json:"role"`
	Instrument int64   `json:"instrument,omitempty"`
	From       instant `json:"from"`
	Minutes    float64 `json:"minutes"`
}

type cautionsAnswer struct {
	Instrument int64  `json:"instrument"`
	Words      string `json:"words"`
}

func newLineUpAnswer(sh *night.Sheet, r lineup.Result, duties []crew.Duty) lineUpAnswer {
	n := sh.Night
	a := lineUpAnswer{
		Format: lineUpFormat, sheet: sh,
		Night: lineUpNight{
			Name: n.Name, Date: n.Date.String(), Site: sh.Site.Name, Zone: sh.Site.Zone, PublicFrom: at(n.PublicFrom), PublicTo: at(n.PublicTo()),
			BlockMinutes: n.Block.Minutes(), Guests: n.Guests, Audience: string(n.Audience),
		},
		LineUp: lineUpBody{Score: rounded(r.Score), Bound: rounded(r.Bound), Gap: r.Gap(), Stopped: r.Stopped,
			Showings: []showingAnswer{}, Conflicts: []string{}, LeftOut: []leftAnswer{}, NotShown: []leftAnswer{}, Parked: []parkedAnswer{}},
		Fits: []fitAnswer{}, Duties: []dutyAnswer{}, CoolDown: []coolAnswer{}, Dew: []dewAnswer{},
	}
	m := sh.Fits()
	shown := map[string]bool{}
	for _, s := range r.Showings {
		shown[s.TargetID] = true
		a.LineUp.Showings = append(a.LineUp.Showings, showingOf(sh, m, s))
	}
	for _, c := range sh.Input.Check(m, r.Showings) {
		a.LineUp.Conflicts = append(a.LineUp.Conflicts, c.Words)
	}
	for _, l := range r.Left {
		a.LineUp.LeftOut = append(a.LineUp.LeftOut, leftAnswer{l.InstrumentID, l.TargetID, l.Reason})
	}
	for _, id := range sh.Plan.Targets {
		if _, ok := sh.Target(id); !ok {
			a.LineUp.LeftOut = append(a.LineUp.LeftOut, leftAnswer{Target: id, Reason: "the catalogue has no such target"})
		}
	}
	for ti, t := range sh.Targets {
		if !shown[t.ID] {
			a.LineUp.NotShown = append(a.LineUp.NotShown, leftAnswer{Target: t.ID, Reason: m.WhyNowhere(ti)})
		}
	}
	for _, p := range r.Parked {
		a.LineUp.Parked = append(a.LineUp.Parked, parkedAnswer{p.InstrumentID, at(p.From), at(p.To), p.Reason})
	}
	c := r.Crowding
	a.LineUp.Guests = guestsAnswer{number{c.Looks, 0}, number{c.PerGuest, 2}, number{c.MeanWait.Minutes(), 1}, number{c.LongestWait.Minutes(), 1}, c.Short, c.Proposals}
	for ii := range sh.Kit.Instruments {
		for ti := range sh.Targets {
			a.Fits = append(a.Fits, fitOf(sh, m, ii, ti))
		}
	}
	for _, d := range duties {
		a.Duties = append(a.Duties, dutyAnswer{d.VolunteerID, volunteerName(sh, d.VolunteerID), string(d.Role), d.InstrumentID, at(d.From), d.Length.Minutes()})
	}
	a.weather(sh)
	return a
}

func volunteerName(sh *night.Sheet, id int64) string {
	for _, v := range sh.Volunteers {
		if v.ID == id {
			return v.Name
		}
	}
	return ""
}

// rounded leaves four decimals: the rest of a score is noise to a reader.
func rounded(v float64) float64 { return float64(int64(v*1e4+0.5)) / 1e4 }

func showingOf(sh *night.Sheet, m *lineup.Matrix, s lineup.Showing) showingAnswer {
	in := sh.Input
	v := in.ViewOf(m, s)
	x := showingAnswer{
		Instrument: s.InstrumentID, InstrumentIs: in.InstrumentName(s.InstrumentID), Target: s.TargetID, TargetIs: s.TargetID,
		From: at(s.From), Minutes: s.Length.Minutes(), Local: clockIn(sh.Zone, s.From) + "-" + clockIn(sh.Zone, s.To()),
		Fit: v.Fit, Weakest: v.Weakest.Sentence, Gear: trainOf(v.Train, v.Optics),
		AltitudeStart: number{v.AtStart.AltRefracted, 1}, AltitudeEnd: number{v.AtEnd.AltRefracted, 1},
		EyepieceLow: number{v.HeightLow, 2}, EyepieceHigh: number{v.HeightTop, 2}, Reach: in.ReachWords(v.HeightTop),
		LookSeconds: number{v.Flow.LookSeconds, 0}, Looks: number{v.Flow.Looks, 0}, Pinned: s.Pinned, Backup: s.BackupID, Factors: []factorAnswer{},
	}
	if t, ok := sh.Target(s.TargetID); ok {
		x.TargetIs = t.Name
	}
	ii, ti := in.Instrument(s.InstrumentID), in.TargetIndex(s.TargetID)
	if ii < 0 || ti < 0 {
		return x
	}
	from, to := m.BlocksOf(s)
	if r := m.TrainIndex(ii, s); r >= 0 && from < to {
		x.Factors = factorsOf(m.Judge(ii, ti, r, (from+to-1)/2))
	}
	return x
}

func clockIn(zone *time.Location, t time.Time) string { return t.In(zone).Format("15:04") }

func factorsOf(f lineup.Fit) []factorAnswer {
	out := make([]factorAnswer, 0, len(f.Factors))
	for _, x := range f.Factors {
		out = append(out, factorAnswer{x.Key.String(), number{x.Value, 3}, number{x.Number, 2}, x.Unit, x.Wanted, x.Sentence, x.Veto, x.Assumed})
	}
	return out
}

func fitOf(sh *night.Sheet, m *lineup.Matrix, ii, ti int) fitAnswer {
	x := fitAnswer{Instrument: sh.Kit.Instruments[ii].ID, Target: sh.Targets[ti].ID}
	if len(m.Blocks) == 0 {
		x.Veto = "The night has no public hours."
		return x
	}
	b := m.BestBlock(ii, ti)
	if b < 0 {
		b = m.HighestBlock(ti)
	}
	for n, slot := range m.Blocks {
		if m.Cell(ii, ti).Best(n) == 0 {
			continue
		}
		if x.From.t == nil {
			x.From = at(slot.From)
		}
		x.To = at(slot.To)
	}
	x.At = at(m.Blocks[b].From)
	why := m.Why(ii, ti, b)
	x.Better = why.Better
	if !why.HasView {
		x.Veto, x.VetoBy, x.Better = why.Better, "Kit", ""
		return x
	}
	gear := trainOf(why.Train, why.Train.Static())
	x.Gear, x.Fit, x.Factors = &gear, number{why.Fit.Value, 3}, factorsOf(why.Fit)
	if v, ok := why.Fit.Vetoed(); ok {
		x.Veto, x.VetoBy = v.Sentence, v.Key.String()
	}
	return x
}

// print is the short table for people.
func (a lineUpAnswer) print(out io.Writer) error {
	w := tabwriter.NewWriter(out, 0, 8, 2, ' ', 0)
	fmt.Fprintf(w, "%s, %s at %s, score %.1f, at most %.1f (%.2f %% apart)\n", a.Night.Name, a.Night.Date, a.Night.Site, a.LineUp.Score, a.LineUp.Bound, 100*a.LineUp.Gap)
	for _, s := range a.LineUp.Showings {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%.2f\t%s\n", s.Local, s.InstrumentIs, s.TargetIs, s.Gear.Words, s.Fit, s.Weakest)
	}
	for _, c := range a.LineUp.Conflicts {
		fmt.Fprintf(w, "conflict\t%s\n", c)
	}
	for _, l := range a.LineUp.LeftOut {
		fmt.Fprintf(w, "left out\t%s\t%s\n", l.Target, l.Reason)
	}
	for _, l := range a.LineUp.NotShown {
		fmt.Fprintf(w, "not shown\t%s\t%s\n", l.Target, l.Reason)
	}
	for _, p := range a.LineUp.Parked {
		fmt.Fprintf(w, "parked\t%s\t%s-%s\t%s\n", a.sheet.Input.InstrumentName(p.Instrument), clockIn(a.sheet.Zone, *p.From.t), clockIn(a.sheet.Zone, *p.To.t), p.Reason)
	}
	if len(a.Notes) > 0 {
		fmt.Fprintf(w, "%s\n", strings.Join(a.Notes, " "))
	}
	return w.Flush()
}

func trainOf(tr optics.Train, o optics.Optics) trainAnswer {
	a := trainAnswer{Words: tr.String(), Magnification: number{o.Magnification, 1}, TrueField: number{o.TrueField, 4}, FieldFrom: o.FieldFrom, ExitPupil: number{o.ExitPupil, 2}, Assumed: o.Assumed}
	k := tr.Key()
	a.Eyepiece, a.Amplifier, a.Diagonal, a.Filter = k.Eyepiece, k.Amplifier, k.Diagonal, k.Filter
	return a
}
