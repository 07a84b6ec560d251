package nightfile

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/internal/sky"
)

// said takes a fault: the path in the file and what is wrong there.
type said func(path, format string, args ...any)

// checkIDs refuses pieces that share an id: whatever points at them would be
// anybody's guess.
func checkIDs(p night.Plan, bad said) {
	k := idsOf(p.Kit)
	eachPiece(&p.Kit, func(list string, i int, b *kit.Base, _ *int64) {
		if k.count[list][b.ID] > 1 {
			bad(fmt.Sprintf("/kit/%s/%d/id", list, i), "the id %d stands there twice", b.ID)
		}
	})
	people := map[int64]bool{}
	for i, v := range p.Volunteers {
		if people[v.ID] {
			bad(fmt.Sprintf("/volunteers/%d/id", i), "the id %d stands there twice", v.ID)
		}
		people[v.ID] = true
	}
}

// Keepable says what a club cannot keep of a night, although a line-up can be
// found for it as far as possible: numbers that the club's own forms would
// refuse, ids that lead nowhere, words that nobody knows, hours that are not of
// this night. Faults are fault.Fields with their paths in the file.
func Keepable(p night.Plan) error {
	var faults fault.Fields
	bad := func(path, format string, args ...any) {
		if len(faults) < mostFaults {
			faults = append(faults, fault.Field{Name: path, Message: fmt.Sprintf(format, args...)})
		}
	}
	checkNumbers(p, bad)
	checkNight(p, bad)
	k := idsOf(p.Kit)
	people := checkPeople(p, k, bad)
	eachPiece(&p.Kit, func(list string, i int, b *kit.Base, forID *int64) {
		path := fmt.Sprintf("/kit/%s/%d", list, i)
		if forID != nil && *forID != 0 {
			k.instrument(path+"/for", *forID, bad)
		}
		if b.OwnerID != 0 && !people[b.OwnerID] {
			bad(path+"/owner", "nobody in the file has the id %d", b.OwnerID)
		}
	})
	checkShowings(p, k, bad)
	for i, d := range p.Duties {
		path := fmt.Sprintf("/duties/%d", i)
		if !people[d.VolunteerID] {
			bad(path+"/volunteer", "nobody in the file has the id %d", d.VolunteerID)
		}
		if d.Length < time.Minute {
			bad(path+"/minutes", "a duty lasts a minute at least")
		}
		oneOf(path+"/role", d.Role, crew.Roles, bad)
		if d.InstrumentID != 0 {
			k.instrument(path+"/instrument", d.InstrumentID, bad)
		}
	}
	checkTargets(p, bad)
	return faults.OrNil()
}

// checkNumbers guards what the club's tables hold.
func checkNumbers(p night.Plan, bad said) {
	if b := p.Site.Brightness; !(b >= 10 && b <= 23) {
		bad("/site/brightness", "%g is not between 10 and 23 mag per square arcsecond", b)
	}
	switch p.Night.Block.Minutes() {
	case 10, 15, 20, 30:
	default:
		bad("/night/blockMinutes", "%g is none of 10, 15, 20 and 30 minutes", p.Night.Block.Minutes())
	}
	if p.Night.Public < time.Second {
		bad("/night/publicMinutes", "the public hours have no length")
	}
	if p.Night.Seeing >= 60 {
		bad("/night/seeing", "%g is not below 60 arcseconds", p.Night.Seeing)
	}
}

// checkTargets guards that ids of targets look like ids, and that those of the
// club's own are explained in the file: another club's own-3 is another thing.
func checkTargets(p night.Plan, bad said) {
	own := map[string]bool{}
	for _, o := range p.Own {
		own[o.ID] = true
	}
	target := func(path, id string) {
		switch {
		case !idLike.MatchString(id):
			bad(path, "%q is no id of a target", id)
		case strings.HasPrefix(id, "own-") && !own[id]:
			bad(path, "no target %s is described under ownTargets", id)
		}
	}
	seen := map[string]bool{}
	for i, id := range p.Targets {
		target(fmt.Sprintf("/targets/%d", i), id)
		if seen[id] {
			bad(fmt.Sprintf("/targets/%d", i), "%q stands there twice", id)
		}
		seen[id] = true
	}
	for i, s := range p.Showings {
		target(fmt.Sprintf("/showings/%d/target", i), s.TargetID)
		if s.BackupID != "" {
			target(fmt.Sprintf("/showings/%d/backup", i), s.BackupID)
		}
	}
	for i, x := range p.Forbidden {
		target(fmt.Sprintf("/forbidden/%d/target", i), x.TargetID)
	}
	for i, id := range p.MustShow {
		if !seen[id] {
			bad(fmt.Sprintf("/mustShow/%d", i), "%q is not among the targets", id)
		}
	}
}

// checkNight guards that the public hours lie in the night of the date.
func checkNight(p night.Plan, bad said) {
	oneOf("/night/audience", p.Night.Audience, night.Audiences, bad)
	zone, err := p.Site.Location()
	if err != nil || p.Night.Date == (sky.Date{}) {
		return // said before
	}
	n, err := sky.NewNight(p.Site.Place, p.Night.Date, zone)
	if err != nil {
		bad("/night/date", "%v", err)
		return
	}
	if p.Night.PublicFrom.Before(n.From) || p.Night.PublicTo().After(n.To) {
		bad("/night/publicFrom", "the public hours lie outside the night of %s, which runs from %s to %s",
			p.Night.Date, n.From.UTC().Format(time.RFC3339), n.To.UTC().Format(time.RFC3339))
	}
}

func oneOf[T ~string](path string, v T, all []T, bad said) {
	if !slices.Contains(all, v) {
		bad(path, "%q is none of %q", v, all)
	}
}

func checkPeople(p night.Plan, k ids, bad said) map[int64]bool {
	people := map[int64]bool{}
	for i, v := range p.Volunteers {
		path := fmt.Sprintf("/volunteers/%d", i)
		people[v.ID] = true
		if v.ID <= 0 {
			bad(path+"/id", "%d is no id", v.ID)
		}
		for j, r := range v.Roles {
			oneOf(fmt.Sprintf("%s/roles/%d", path, j), r, crew.Roles, bad)
		}
		for j, s := range v.Skills {
			here := fmt.Sprintf("%s/skills/%d", path, j)
			oneOf(here+"/level", s.Level, []crew.Level{crew.Learning, crew.Alone, crew.Teacher}, bad)
			switch {
			case s.InstrumentID != 0:
				k.instrument(here+"/instrument", s.InstrumentID, bad)
			case s.Mount != "":
				oneOf(here+"/mount", kit.Mount(s.Mount), kit.Mounts, bad)
			default:
				bad(here, "a skill needs an instrument or a mount")
			}
		}
	}
	for i, a := range p.Availability {
		path := fmt.Sprintf("/volunteers/%d", i)
		oneOf(path+"/answer", a.Answer, []crew.Answer{crew.NoAnswer, crew.Yes, crew.Maybe, crew.No}, bad)
		if !a.From.IsZero() && !a.To.IsZero() && !a.To.After(a.From) {
			bad(path+"/to", "leaves before coming")
		}
	}
	return people
}

func checkShowings(p night.Plan, k ids, bad said) {
	for i, s := range p.Showings {
		path := fmt.Sprintf("/showings/%d", i)
		k.instrument(path+"/instrument", s.InstrumentID, bad)
		if s.Length < time.Minute {
			bad(path+"/minutes", "a showing lasts a minute at least")
		}
		for _, part := range []struct {
			list, key, word string
			id              int64
		}{
			{"eyepieces", "eyepiece", "eyepiece", s.EyepieceID}, {"amplifiers", "amplifier", "Barlow, reducer or corrector", s.AmplifierID},
			{"diagonals", "diagonal", "diagonal", s.DiagonalID}, {"filters", "filter", "filter", s.FilterID},
		} {
			if part.id != 0 && k.count[part.list][part.id] == 0 {
				bad(path+"/"+part.key, "there is no %s %d in the file", part.word, part.id)
			}
		}
	}
}

// idLike is what an id of a target looks like.
var idLike = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,60}$`)

// ids counts the pieces of a file by list and id.
type ids struct{ count map[string]map[int64]int }

func idsOf(k kit.Kit) ids {
	out := ids{map[string]map[int64]int{}}
	eachPiece(&k, func(list string, _ int, b *kit.Base, _ *int64) {
		if out.count[list] == nil {
			out.count[list] = map[int64]int{}
		}
		out.count[list][b.ID]++
	})
	return out
}

func (k ids) instrument(path string, id int64, bad said) {
	if k.count["instruments"][id] == 0 {
		bad(path, "there is no instrument %d in the file", id)
	}
}
