package store

import (
	"context"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// CrewRules returns how many people the club wants on a night.
func (s *Store) CrewRules(ctx context.Context) (r crew.Rules, err error) {
	err = s.read(ctx, "load crew rules", func(q *db.Queries) error {
		x, err := q.GetCrewRules(ctx)
		r = crew.Rules{
			Version: x.Version, Work: minutes(x.WorkMinutes), Break: minutes(x.BreakMinutes), Least: minutes(x.LeastMinutes),
			Lead: minutes(x.LeadMinutes), After: minutes(x.AfterMinutes), Train: minutes(x.TrainMinutes),
			PerGreeter: int(x.PerGreeter), PerQueueHost: int(x.PerQueueHost), PerGuide: int(x.PerGuide), PerParking: int(x.PerParking),
			PerSafety: int(x.PerSafety), PerSetUp: int(x.PerSetUp), PerPackDown: int(x.PerPackDown),
			MinorsGuarded: x.MinorsGuarded, Laser: x.Laser, SeasonMonth: time.Month(x.SeasonMonth),
		}
		return err
	})
	return r, err
}

func minutes(n int64) time.Duration { return time.Duration(n) * time.Minute }

// SaveCrewRules changes how many people the club wants.
func (s *Store) SaveCrewRules(ctx context.Context, r *crew.Rules) error {
	in := func(d time.Duration) int64 { return int64(d / time.Minute) }
	err := s.write(ctx, "save crew rules", func(q *db.Queries) error {
		n, err := q.UpdateCrewRules(ctx, db.UpdateCrewRulesParams{
			Version: r.Version, WorkMinutes: in(r.Work), BreakMinutes: in(r.Break), LeastMinutes: in(r.Least),
			LeadMinutes: in(r.Lead), AfterMinutes: in(r.After), TrainMinutes: in(r.Train),
			PerGreeter: int64(r.PerGreeter), PerQueueHost: int64(r.PerQueueHost), PerGuide: int64(r.PerGuide), PerParking: int64(r.PerParking),
			PerSafety: int64(r.PerSafety), PerSetUp: int64(r.PerSetUp), PerPackDown: int64(r.PerPackDown),
			MinorsGuarded: r.MinorsGuarded, Laser: r.Laser, SeasonMonth: int64(r.SeasonMonth),
		})
		if err == nil && n == 0 {
			return changed("page of crew rules")
		}
		return err
	})
	if err == nil {
		r.Version++
	}
	return err
}

// AddLink keeps a personal link of a volunteer by its hash. Earlier links stay
// good, because calendars may lean on them.
func (s *Store) AddLink(ctx context.Context, volunteerID int64, hash string, at time.Time) error {
	return s.write(ctx, "add link", func(q *db.Queries) error {
		v, err := q.GetVolunteer(ctx, volunteerID)
		switch {
		case err != nil:
			return missing(err, "volunteer", volunteerID)
		case v.Forgotten:
			return fault.New(fault.Invalid, "This volunteer was forgotten.")
		}
		return q.InsertCrewLink(ctx, db.InsertCrewLinkParams{Hash: hash, VolunteerID: volunteerID, MadeAt: column.At(at)})
	})
}

// LinkOwner returns whose link a hash belongs to, NotFound when it is none or
// was revoked. touch notes that it was used.
func (s *Store) LinkOwner(ctx context.Context, hash string, at time.Time, touch bool) (v crew.Volunteer, err error) {
	err = s.read(ctx, "find link", func(q *db.Queries) error {
		l, err := q.GetCrewLink(ctx, hash)
		if err != nil {
			return fault.New(fault.NotFound, "This personal link is not valid, or not any more. Ask whoever sent it for a new one.")
		}
		r, err := q.GetVolunteer(ctx, l.VolunteerID)
		v = volunteerOf(r)
		return err
	})
	if err != nil || !touch {
		return v, err
	}
	return v, s.write(ctx, "note the use of a link", func(q *db.Queries) error {
		return q.TouchCrewLink(ctx, column.At(at), hash)
	})
}

// Links returns the links that are good, oldest first.
func (s *Store) Links(ctx context.Context) (ls []crew.Link, err error) {
	err = s.read(ctx, "load links", func(q *db.Queries) error {
		rows, err := q.ListCrewLinks(ctx)
		ls, err = each(rows, err, func(r db.CrewLink) crew.Link {
			return crew.Link{VolunteerID: r.VolunteerID, Made: r.MadeAt.Time, Used: r.UsedAt.Time}
		})
		return err
	})
	return ls, err
}

// RevokeLinks makes every link of a volunteer useless.
func (s *Store) RevokeLinks(ctx context.Context, volunteerID int64) error {
	return s.write(ctx, "revoke links", func(q *db.Queries) error { return q.DeleteCrewLinks(ctx, volunteerID) })
}

// Lifts returns what people said about cars and wishes for a night.
func (s *Store) Lifts(ctx context.Context, nightID int64) (ls []crew.Lift, err error) {
	err = s.read(ctx, "load lifts", func(q *db.Queries) error {
		rows, err := q.ListLifts(ctx, nightID)
		ls, err = each(rows, err, func(r db.NightLift) crew.Lift {
			return crew.Lift{VolunteerID: r.VolunteerID, Seats: int(r.Seats), Needs: r.Needs, Place: r.Place, Wish: r.Wish}
		})
		return err
	})
	return ls, err
}

// SaveAnswer keeps what a volunteer says about a night for which they are
// asked. It raises the night's version, so that a coordinator who has the
// answers open does not overwrite this one unseen.
func (s *Store) SaveAnswer(ctx context.Context, nightID int64, a crew.Availability, l crew.Lift) error {
	return s.write(ctx, "save answer", func(q *db.Queries) error { return putAnswer(ctx, q, nightID, a, l) })
}

func putAnswer(ctx context.Context, q *db.Queries, nightID int64, a crew.Availability, l crew.Lift) error {
	n, err := q.UpdateAnswer(ctx, db.UpdateAnswerParams{
		NightID: nightID, VolunteerID: a.VolunteerID, Answer: a.Answer, FromAt: column.At(a.From), ToAt: column.At(a.To),
		DriveMinutes: int64(a.DriveMinutes), Wishes: a.Wishes,
	})
	if err != nil {
		return err
	}
	if n == 0 {
		return fault.New(fault.NotFound, "Nobody has asked for an answer about this night.")
	}
	err = q.PutLift(ctx, db.PutLiftParams{NightID: nightID, VolunteerID: a.VolunteerID, Seats: int64(l.Seats), Needs: l.Needs, Place: l.Place, Wish: l.Wish})
	if err != nil {
		return err
	}
	if err := q.TouchNight(ctx, nightID); err != nil {
		return err
	}
	return note(ctx, q, nightID, "an answer came: "+string(a.Answer))
}

// DropOut notes that somebody cannot come and saves the roster without them,
// both or neither. rosterVersion is that of the plan; the new one is returned.
func (s *Store) DropOut(ctx context.Context, nightID, rosterVersion int64, a crew.Availability, l crew.Lift, left []crew.Duty, label string) (int64, error) {
	return s.saveRoster(ctx, nightID, rosterVersion, label, func(q *db.Queries) error {
		if err := putAnswer(ctx, q, nightID, a, l); err != nil {
			return err
		}
		return putDuties(ctx, q, nightID, left)
	})
}

// Rosters returns the roster of a night after each change, oldest first.
func (s *Store) Rosters(ctx context.Context, nightID int64) (rs []night.RosterEntry, err error) {
	err = s.read(ctx, "load earlier rosters", func(q *db.Queries) error {
		rows, err := q.ListRosterLog(ctx, nightID)
		rs, err = each(rows, err, func(r db.ListRosterLogRow) night.RosterEntry {
			e := night.RosterEntry{ID: r.ID, At: r.At.Time, What: r.What}
			if r.Roster.V != nil {
				e.Duties = dutiesOf(r.Roster.V.Duties)
			}
			return e
		})
		return err
	})
	return rs, err
}
