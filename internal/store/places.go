package store

import (
	"context"
	"database/sql"
	"errors"

	"duskboard/internal/fault"
	"duskboard/internal/ground"
	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// The places of a night have steps of undo of their own, like its line-up (see
// undo.go): field_steps holds the places after each change, night_fields.step
// says which is in force.

// keptFieldSteps is how many changes of the places can be undone.
const keptFieldSteps = 100

// SavePlaces replaces the places of a night and records the change, under
// label, as one step of undo and in the history. version is that of the plan;
// the new one is returned.
func (s *Store) SavePlaces(ctx context.Context, nightID, version int64, places []ground.Place, label string) (int64, error) {
	if label == "" {
		label = "change the places on the field"
	}
	err := s.write(ctx, "save places", func(q *db.Queries) error {
		f, err := raiseField(ctx, q, nightID, version)
		if err != nil {
			return err
		}
		if err := putPlaces(ctx, q, nightID, places); err != nil {
			return err
		}
		if err := q.DeleteFieldStepsAfter(ctx, nightID, f.Step); err != nil {
			return err
		}
		next := f.Step + 1
		if err := q.InsertFieldStep(ctx, db.InsertFieldStepParams{NightID: nightID, Position: next, What: label, Places: placesNow(places)}); err != nil {
			return err
		}
		if err := q.DeleteFieldStepsBefore(ctx, nightID, next-keptFieldSteps); err != nil {
			return err
		}
		if err := q.SetFieldStep(ctx, next, nightID); err != nil {
			return err
		}
		return note(ctx, q, nightID, label)
	})
	if err != nil {
		return 0, err
	}
	return version + 1, nil
}

// UndoPlaces goes back to the places before the last change and returns the
// label of what it undid; Conflict when there is nothing to undo.
func (s *Store) UndoPlaces(ctx context.Context, nightID int64) (label string, err error) {
	return s.stepPlaces(ctx, nightID, -1)
}

// RedoPlaces takes the last UndoPlaces back.
func (s *Store) RedoPlaces(ctx context.Context, nightID int64) (label string, err error) {
	return s.stepPlaces(ctx, nightID, 1)
}

func (s *Store) stepPlaces(ctx context.Context, nightID, by int64) (label string, err error) {
	word := "undo"
	if by > 0 {
		word = "redo"
	}
	err = s.write(ctx, word+" places", func(q *db.Queries) error {
		if _, err := q.GetNight(ctx, nightID); err != nil {
			return missing(err, "night", nightID)
		}
		f, err := fieldOf(ctx, q, nightID)
		if err != nil {
			return err
		}
		to, err := q.GetFieldStep(ctx, nightID, f.Step+by)
		if errors.Is(err, sql.ErrNoRows) {
			return fault.New(fault.Conflict, "There is nothing to %s.", word)
		} else if err != nil {
			return err
		}
		label = to.What
		if by < 0 { // the label of a step is that of the change which led to it
			from, err := q.GetFieldStep(ctx, nightID, f.Step)
			if err != nil {
				return err
			}
			label = from.What
		}
		if _, err := raiseField(ctx, q, nightID, f.Version); err != nil {
			return err
		}
		if err := putPlaces(ctx, q, nightID, placesWere(to.Places)); err != nil {
			return err
		}
		if err := q.SetFieldStep(ctx, f.Step+by, nightID); err != nil {
			return err
		}
		return note(ctx, q, nightID, word+": "+label)
	})
	return label, err
}

// raiseField checks the version of a night's places and raises it; a night
// that was never laid out gets its floor, no places.
func raiseField(ctx context.Context, q *db.Queries, nightID, version int64) (f db.NightField, err error) {
	if _, err := q.GetNight(ctx, nightID); err != nil {
		return f, missing(err, "night", nightID)
	}
	_, err = q.GetField(ctx, nightID)
	if errors.Is(err, sql.ErrNoRows) {
		if err := q.BeginField(ctx, nightID); err != nil {
			return f, err
		}
		err = q.InsertFieldStep(ctx, db.InsertFieldStepParams{NightID: nightID, Position: 0, What: "begin"})
	}
	if err != nil {
		return f, err
	}
	n, err := q.RaiseField(ctx, nightID, version)
	if err != nil {
		return f, err
	}
	if n == 0 {
		return f, changed("field")
	}
	return q.GetField(ctx, nightID)
}

// fieldOf is a night's row; one of version 0 when it was never laid out.
func fieldOf(ctx context.Context, q *db.Queries, nightID int64) (db.NightField, error) {
	f, err := q.GetField(ctx, nightID)
	if errors.Is(err, sql.ErrNoRows) {
		return db.NightField{NightID: nightID}, nil
	}
	return f, err
}

// beginPlaces gives a night that was brought in the places of its file as the
// floor of its steps.
func beginPlaces(ctx context.Context, q *db.Queries, nightID int64, places []ground.Place) error {
	if len(places) == 0 {
		return nil
	}
	if err := q.BeginField(ctx, nightID); err != nil {
		return err
	}
	if err := putPlaces(ctx, q, nightID, places); err != nil {
		return err
	}
	return q.InsertFieldStep(ctx, db.InsertFieldStepParams{NightID: nightID, Position: 0, What: "begin", Places: placesNow(places)})
}

func putPlaces(ctx context.Context, q *db.Queries, nightID int64, places []ground.Place) error {
	if err := q.ClearPlaces(ctx, nightID); err != nil {
		return err
	}
	for _, p := range places {
		err := q.InsertPlace(ctx, db.InsertPlaceParams{
			NightID: nightID, InstrumentID: p.InstrumentID, Number: int64(p.Number), X: p.At.X, Y: p.At.Y, Queue: p.Queue, Pinned: p.Pinned,
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func placesNow(places []ground.Place) column.Places {
	var out column.Places
	for _, p := range places {
		out = append(out, column.Place{Instrument: p.InstrumentID, Number: p.Number, X: p.At.X, Y: p.At.Y, Queue: p.Queue, Pinned: p.Pinned})
	}
	return out
}

func placesWere(was column.Places) []ground.Place {
	var out []ground.Place
	for _, p := range was {
		out = append(out, ground.Place{InstrumentID: p.Instrument, Number: p.Number, At: ground.Point{X: p.X, Y: p.Y}, Queue: p.Queue, Pinned: p.Pinned})
	}
	return out
}

// loadPlaces fills what a plan knows about the field's layout.
func loadPlaces(ctx context.Context, q *db.Queries, p *night.Plan) (err error) {
	if p.Ground, err = loadGround(ctx, q, p.Site.ID); err != nil {
		return err
	}
	f, err := fieldOf(ctx, q, p.Night.ID)
	if err != nil {
		return err
	}
	p.FieldVersion = f.Version
	rows, err := q.ListPlaces(ctx, p.Night.ID)
	p.Places, err = each(rows, err, func(r db.NightPlace) ground.Place {
		return ground.Place{InstrumentID: r.InstrumentID, Number: int(r.Number), At: ground.Point{X: r.X, Y: r.Y}, Queue: r.Queue, Pinned: r.Pinned}
	})
	if err != nil {
		return err
	}
	steps, err := q.FieldStepRange(ctx, p.Night.ID)
	p.CanUndoPlaces, p.CanRedoPlaces = steps.LowPosition < f.Step, f.Step < steps.HighPosition
	return err
}
