package lineup

import (
	"fmt"
	"slices"
	"time"
)

// Change is one thing that is different after planning again.
type Change struct {
	InstrumentID int64
	From, To     time.Time
	Was, Is      string // catalogue ids; "" for idle
	Words        string // "Box 250, 20:15 to 21:00: Pleiades instead of Jupiter; cloud hides it."
}

// changes compares two line-ups block by block from a block on.
func changes(mo *model, old, now []Showing, first int, hs []Happening) []Change {
	var out []Change
	for _, inst := range mo.in.Kit.Instruments {
		for b := first; b < len(mo.m.Blocks); b++ {
			slot := mo.m.Blocks[b]
			was, is := showingAt(old, inst.ID, slot), showingAt(now, inst.ID, slot)
			if was == nil && is == nil || was != nil && is != nil && same(*was, *is) && !otherDiagonal(*was, *is, hs) {
				continue
			}
			c := Change{InstrumentID: inst.ID, From: slot.From, To: slot.To, Was: idOf(was), Is: idOf(is)}
			words := mo.changeWords(was, is, b, hs)
			if n := len(out); n > 0 && out[n-1].InstrumentID == inst.ID && out[n-1].To.Equal(c.From) && out[n-1].Was == c.Was && out[n-1].Is == c.Is {
				out[n-1].To = c.To
				continue
			}
			c.Words = words
			out = append(out, c)
		}
	}
	for i := range out {
		zone := mo.in.Sky.Zone
		out[i].Words = fmt.Sprintf("%s, %s to %s: %s", mo.in.instrumentName(out[i].InstrumentID), out[i].From.In(zone).Format("15:04"), out[i].To.In(zone).Format("15:04"), out[i].Words)
	}
	return out
}

// otherDiagonal reports whether a showing stays but for a diagonal that is
// missing: which of two good ones is used matters to nobody, unless one has to
// be found.
func otherDiagonal(was, is Showing, hs []Happening) bool {
	return was.DiagonalID != is.DiagonalID && slices.ContainsFunc(hs, func(h Happening) bool {
		return h.Kind == DiagonalMissing && h.GearID == was.DiagonalID
	})
}

func showingAt(shows []Showing, inst int64, slot Slot) *Showing {
	for i := range shows {
		if shows[i].InstrumentID == inst && runs(shows[i], slot) {
			return &shows[i]
		}
	}
	return nil
}

func idOf(s *Showing) string {
	if s == nil {
		return ""
	}
	return s.TargetID
}

func (mo *model) nameOf(id string) string {
	if ti := mo.in.target(id); ti >= 0 {
		return mo.in.Targets[ti].Name
	}
	return id
}

func (mo *model) changeWords(was, is *Showing, b int, hs []Happening) string {
	why := mo.changeReason(was, b, hs)
	switch {
	case was == nil:
		return mo.nameOf(is.TargetID) + " instead of nothing."
	case is == nil:
		return "nothing instead of " + mo.nameOf(was.TargetID) + why
	case same(*was, *is):
		return mo.nameOf(is.TargetID) + " with another diagonal" + why
	case was.TargetID == is.TargetID:
		return fmt.Sprintf("%s with %s%s", mo.nameOf(is.TargetID), mo.gearOf(*is), why)
	}
	return fmt.Sprintf("%s instead of %s%s", mo.nameOf(is.TargetID), mo.nameOf(was.TargetID), why)
}

func (mo *model) gearOf(s Showing) string {
	if tr, ok := mo.in.TrainOf(s); ok {
		return tr.String()
	}
	return "other gear"
}

// changeReason tells why what was planned cannot stay, or that it made room.
func (mo *model) changeReason(was *Showing, b int, hs []Happening) string {
	if was == nil {
		return "."
	}
	ii, ti := mo.in.instrument(was.InstrumentID), mo.in.target(was.TargetID)
	if ii < 0 || ti < 0 {
		return "."
	}
	for _, a := range mo.in.Away[was.InstrumentID] {
		if a.From.Before(mo.m.Blocks[b].To) && a.To.After(mo.m.Blocks[b].From) {
			return "; " + a.Reason + "."
		}
	}
	if mo.m.clouded(ti, b, hs) {
		return "; cloud hides it."
	}
	for _, h := range hs {
		switch {
		case h.Kind == EyepieceMissing && was.EyepieceID == h.EyepieceID:
			return "; its eyepiece is missing."
		case h.Kind == AmplifierGone && was.AmplifierID == h.GearID:
			return "; its Barlow lens, reducer or corrector is missing."
		case h.Kind == DiagonalMissing && was.DiagonalID == h.GearID:
			return "; its diagonal is missing."
		case h.Kind == FilterMissing && was.FilterID == h.GearID:
			return "; its filter is missing."
		}
	}
	if m := mo.m.Including(*was); m.train(ii, *was) >= 0 {
		if v, ok := m.Judge(ii, ti, m.train(ii, *was), b).Vetoed(); ok {
			return "; " + v.Sentence
		}
	}
	return ", which makes the better night now."
}
