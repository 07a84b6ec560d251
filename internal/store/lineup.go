package store

import (
	"context"
	"database/sql"
	"slices"

	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// keptSteps is how many changes of a line-up can be undone; older ones remain
// in the history.
const keptSteps = 200

// SaveShowings replaces the showings of a night and records the change, under
// label, as one step of undo. lineUpVersion is that of the plan; the new one is
// returned. A showing with an ID of 0 gets one, set in the slice.
func (s *Store) SaveShowings(ctx context.Context, nightID, lineUpVersion int64, showings []lineup.Showing, label string) (int64, error) {
	saved := slices.Clone(showings)
	version, err := s.saveLineUp(ctx, nightID, lineUpVersion, label, func(q *db.Queries) error {
		return putShowings(ctx, q, nightID, saved)
	})
	if err == nil {
		copy(showings, saved)
	}
	return version, err
}

// SaveForbidden replaces the pairs of instrument and target that a night must
// not have. It is a change of the line-up like SaveShowings, one step of undo,
// and returns the new version.
func (s *Store) SaveForbidden(ctx context.Context, nightID, lineUpVersion int64, pairs []lineup.Pair) (int64, error) {
	return s.saveLineUp(ctx, nightID, lineUpVersion, "change what is not wanted where", func(q *db.Queries) error {
		return putForbidden(ctx, q, nightID, pairs)
	})
}

// SaveLineUp replaces showings and forbidden pairs together, as one step of
// undo; otherwise it is like SaveShowings.
func (s *Store) SaveLineUp(ctx context.Context, nightID, lineUpVersion int64, showings []lineup.Showing, pairs []lineup.Pair, label string) (int64, error) {
	saved := slices.Clone(showings)
	version, err := s.saveLineUp(ctx, nightID, lineUpVersion, label, func(q *db.Queries) error {
		if err := putShowings(ctx, q, nightID, saved); err != nil {
			return err
		}
		return putForbidden(ctx, q, nightID, pairs)
	})
	if err == nil {
		copy(showings, saved)
	}
	return version, err
}

// RestoreLineUp brings back the line-up as it was after an entry of the
// history; that is a step of undo, too.
func (s *Store) RestoreLineUp(ctx context.Context, nightID, lineUpVersion, entryID int64) (int64, error) {
	return s.saveLineUp(ctx, nightID, lineUpVersion, "bring back an earlier line-up", func(q *db.Queries) error {
		e, err := q.GetLog(ctx, entryID, nightID)
		if err != nil {
			return missing(err, "entry of the history", entryID)
		}
		if e.LineUp.V == nil {
			return fault.New(fault.NotFound, "This change did not touch the line-up.")
		}
		return putLineUp(ctx, q, nightID, *e.LineUp.V)
	})
}

// saveLineUp checks the version, lets put change the line-up, and records it.
func (s *Store) saveLineUp(ctx context.Context, nightID, version int64, label string, put func(q *db.Queries) error) (int64, error) {
	if label == "" {
		label = "change the line-up"
	}
	err := s.write(ctx, "save line-up", func(q *db.Queries) error {
		if err := raiseLineUp(ctx, q, nightID, version); err != nil {
			return err
		}
		if err := put(q); err != nil {
			return err
		}
		return appendStep(ctx, q, nightID, label)
	})
	if err != nil {
		return 0, err
	}
	return version + 1, nil
}

func raiseLineUp(ctx context.Context, q *db.Queries, nightID, version int64) error {
	return row{
		what:  "line-up",
		raise: func(id, v int64) (int64, error) { return q.RaiseLineUp(ctx, id, v) },
		find:  func(id int64) error { return found(q.GetNight(ctx, id)) },
	}.check(nightID, version)
}

func putShowings(ctx context.Context, q *db.Queries, nightID int64, showings []lineup.Showing) error {
	if err := q.ClearShowings(ctx, nightID); err != nil {
		return err
	}
	for i := range showings {
		x := &showings[i]
		id, err := q.InsertShowing(ctx, db.InsertShowingParams{
			ID: sql.NullInt64{Int64: x.ID, Valid: x.ID != 0}, NightID: nightID,
			InstrumentID: x.InstrumentID, TargetID: x.TargetID,
			EyepieceID: column.Ref(x.EyepieceID), AmplifierID: column.Ref(x.AmplifierID),
			DiagonalID: column.Ref(x.DiagonalID), FilterID: column.Ref(x.FilterID),
			FromAt: column.At(x.From), LengthSeconds: column.Length(x.Length),
			Pinned: x.Pinned, BackupID: x.BackupID,
		})
		if err != nil {
			return err
		}
		x.ID = id
	}
	return nil
}

func putForbidden(ctx context.Context, q *db.Queries, nightID int64, pairs []lineup.Pair) error {
	if err := q.ClearForbidden(ctx, nightID); err != nil {
		return err
	}
	for _, p := range pairs {
		err := q.InsertForbidden(ctx, db.InsertForbiddenParams{NightID: nightID, InstrumentID: p.InstrumentID, TargetID: p.TargetID})
		if err != nil {
			return err
		}
	}
	return nil
}

// putLineUp makes the line-up what it was.
func putLineUp(ctx context.Context, q *db.Queries, nightID int64, was column.LineUpState) error {
	showings, pairs := lineUpOf(was)
	if err := putShowings(ctx, q, nightID, showings); err != nil {
		return err
	}
	return putForbidden(ctx, q, nightID, pairs)
}

// lineUpOf turns a line-up as it was into the domain's words.
func lineUpOf(was column.LineUpState) (showings []lineup.Showing, pairs []lineup.Pair) {
	for _, x := range was.Showings {
		showings = append(showings, lineup.Showing{
			ID: x.ID, InstrumentID: x.Instrument, TargetID: x.Target,
			EyepieceID: int64(x.Eyepiece), AmplifierID: int64(x.Amplifier),
			DiagonalID: int64(x.Diagonal), FilterID: int64(x.Filter),
			From: x.From.Time, Length: x.Seconds.Duration(), Pinned: x.Pinned, BackupID: x.Backup,
		})
	}
	for _, x := range was.Forbidden {
		pairs = append(pairs, lineup.Pair{InstrumentID: x.Instrument, TargetID: x.Target})
	}
	return showings, pairs
}

// lineUpNow is the line-up as it is, for the history.
func lineUpNow(ctx context.Context, q *db.Queries, nightID int64) (is column.LineUpState, err error) {
	showings, err := q.ListShowings(ctx, nightID)
	if err != nil {
		return is, err
	}
	for _, x := range showings {
		is.Showings = append(is.Showings, column.Showing{
			ID: x.ID, Instrument: x.InstrumentID, Target: x.TargetID,
			Eyepiece: x.EyepieceID, Amplifier: x.AmplifierID, Diagonal: x.DiagonalID, Filter: x.FilterID,
			From: x.FromAt, Seconds: x.LengthSeconds, Pinned: x.Pinned, Backup: x.BackupID,
		})
	}
	pairs, err := q.ListForbidden(ctx, nightID)
	for _, x := range pairs {
		is.Forbidden = append(is.Forbidden, column.Pair{Instrument: x.InstrumentID, Target: x.TargetID})
	}
	return is, err
}
