package store

import (
	"context"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// SaveChoice saves what was chosen for a night: gear, targets, and whom to
// ask. It counts as a change of the night: version is that of the night, and
// is one more afterwards. A must-show that is not among the targets is Invalid.
func (s *Store) SaveChoice(ctx context.Context, nightID, version int64, c night.Choice) error {
	return s.write(ctx, "save choice", func(q *db.Queries) error {
		r := row{
			what:  "night",
			raise: func(id, v int64) (int64, error) { return q.RaiseNight(ctx, id, v) },
			find:  func(id int64) error { return found(q.GetNight(ctx, id)) },
		}
		if err := r.check(nightID, version); err != nil {
			return err
		}
		if err := putNightGear(ctx, q, nightID, c); err != nil {
			return err
		}
		if err := putNightTargets(ctx, q, nightID, c); err != nil {
			return err
		}
		if err := putAvailability(ctx, q, nightID, c); err != nil {
			return err
		}
		return note(ctx, q, nightID, "choose kit, targets and crew")
	})
}

func putNightGear(ctx context.Context, q *db.Queries, nightID int64, c night.Choice) error {
	if err := q.ClearNightGear(ctx, nightID); err != nil {
		return err
	}
	for _, part := range []struct {
		kind string
		ids  []int64
	}{
		{instrumentKind, c.Instruments}, {eyepieceKind, c.Eyepieces}, {amplifierKind, c.Amplifiers},
		{diagonalKind, c.Diagonals}, {filterKind, c.Filters}, {finderKind, c.Finders},
		{dewGearKind, c.DewGear}, {batteryKind, c.Batteries}, {stepsKind, c.Steps},
	} {
		for _, id := range part.ids {
			if err := q.InsertNightGear(ctx, db.InsertNightGearParams{NightID: nightID, Kind: part.kind, GearID: id}); err != nil {
				return err
			}
		}
	}
	return nil
}

func putNightTargets(ctx context.Context, q *db.Queries, nightID int64, c night.Choice) error {
	if err := q.ClearNightTargets(ctx, nightID); err != nil {
		return err
	}
	must := map[string]bool{}
	for _, id := range c.MustShow {
		must[id] = true
	}
	for i, id := range c.Targets {
		err := q.InsertNightTarget(ctx, db.InsertNightTargetParams{NightID: nightID, TargetID: id, Position: int64(i), Must: must[id]})
		if err != nil {
			return err
		}
		delete(must, id)
	}
	for id := range must {
		return fault.New(fault.Invalid, "%s must be shown but is not among the targets of the night.", id)
	}
	return nil
}

func putAvailability(ctx context.Context, q *db.Queries, nightID int64, c night.Choice) error {
	if err := q.ClearAvailability(ctx, nightID); err != nil {
		return err
	}
	for _, a := range c.Availability {
		err := q.InsertAvailability(ctx, db.InsertAvailabilityParams{
			NightID: nightID, VolunteerID: a.VolunteerID, Answer: a.Answer,
			FromAt: column.At(a.From), ToAt: column.At(a.To),
			DriveMinutes: int64(a.DriveMinutes), Wishes: a.Wishes,
		})
		if err != nil {
			return err
		}
	}
	return nil
}
