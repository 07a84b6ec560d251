package store

import (
	"context"

	"duskboard/internal/crew"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/store/db"
)

// Plan returns a night with everything that was chosen for it, all of one
// moment. Retired gear is left out; a volunteer who was asked stays.
func (s *Store) Plan(ctx context.Context, nightID int64) (p night.Plan, err error) {
	err = s.read(ctx, "load plan", func(q *db.Queries) error {
		n, err := q.GetNight(ctx, nightID)
		if err != nil {
			return missing(err, "night", nightID)
		}
		p.Night, p.LineUpVersion, p.RosterVersion = nightOf(n), n.LineUpVersion, n.RosterVersion
		return loadPlan(ctx, q, &p, n.LineUpStep)
	})
	return p, err
}

// loadPlan fills the plan of p.Night. step is the line-up step in force.
func loadPlan(ctx context.Context, q *db.Queries, p *night.Plan, step int64) (err error) {
	id := p.Night.ID
	if p.Club, err = club(ctx, q); err != nil {
		return err
	}
	site, err := q.GetSite(ctx, p.Night.SiteID)
	if err != nil {
		return err
	}
	p.Site = siteOf(site)
	if p.Kit, err = loadKit(ctx, q, id, false); err != nil {
		return err
	}
	if p.Weather, err = loadWeather(ctx, q, id); err != nil {
		return err
	}

	targets, err := q.ListNightTargets(ctx, id)
	if err != nil {
		return err
	}
	for _, t := range targets {
		p.Targets = append(p.Targets, t.TargetID)
		if t.Must {
			p.MustShow = append(p.MustShow, t.TargetID)
		}
	}

	volunteers, err := q.ListNightVolunteers(ctx, id)
	if p.Volunteers, err = each(volunteers, err, volunteerOf); err != nil {
		return err
	}
	answers, err := q.ListAvailability(ctx, id)
	if p.Availability, err = each(answers, err, availabilityOf); err != nil {
		return err
	}
	duties, err := q.ListDuties(ctx, id)
	if p.Duties, err = each(duties, err, dutyOf); err != nil {
		return err
	}

	showings, err := q.ListShowings(ctx, id)
	if p.Showings, err = each(showings, err, showingOf); err != nil {
		return err
	}
	pairs, err := q.ListForbidden(ctx, id)
	if p.Forbidden, err = each(pairs, err, pairOf); err != nil {
		return err
	}
	if err := loadField(ctx, q, p); err != nil {
		return err
	}
	if err := loadPlaces(ctx, q, p); err != nil {
		return err
	}
	steps, err := q.StepRange(ctx, id)
	p.CanUndo, p.CanRedo = steps.LowPosition < step, step < steps.HighPosition
	return err
}

func availabilityOf(r db.NightVolunteer) crew.Availability {
	return crew.Availability{
		VolunteerID: r.VolunteerID, Answer: r.Answer, From: r.FromAt.Time, To: r.ToAt.Time,
		DriveMinutes: int(r.DriveMinutes), Wishes: r.Wishes,
	}
}

func showingOf(r db.Showing) lineup.Showing {
	return lineup.Showing{
		ID: r.ID, InstrumentID: r.InstrumentID, TargetID: r.TargetID,
		EyepieceID: int64(r.EyepieceID), AmplifierID: int64(r.AmplifierID),
		DiagonalID: int64(r.DiagonalID), FilterID: int64(r.FilterID),
		From: r.FromAt.Time, Length: r.LengthSeconds.Duration(), Pinned: r.Pinned, BackupID: r.BackupID,
	}
}

func pairOf(r db.ForbiddenPair) lineup.Pair {
	return lineup.Pair{InstrumentID: r.InstrumentID, TargetID: r.TargetID}
}

func dutyOf(r db.Duty) crew.Duty {
	return crew.Duty{
		ID: r.ID, VolunteerID: r.VolunteerID, Role: r.Role, InstrumentID: int64(r.InstrumentID),
		From: r.FromAt.Time, Length: r.LengthSeconds.Duration(), Pinned: r.Pinned,
	}
}
