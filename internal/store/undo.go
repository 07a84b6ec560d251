package store

import (
	"context"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// The steps of a night are a row of positions, each with the line-up as it was
// after a change; nights.line_up_step says which is in force. A change is
// appended behind the one in force, and what had been undone is forgotten as a
// step (the history still has it).

// Undo goes back to the line-up before the last change and returns the label
// of what it undid. The line-up's version rises, so a page that was open before
// is told so. When there is nothing to undo the answer is fault.Conflict.
func (s *Store) Undo(ctx context.Context, nightID int64) (label string, err error) {
	err = s.write(ctx, "undo", func(q *db.Queries) error {
		n, steps, err := present(ctx, q, nightID)
		if err != nil {
			return err
		}
		if n.LineUpStep <= steps.LowPosition {
			return fault.New(fault.Conflict, "There is nothing to undo.")
		}
		// The label of a step is that of the change which led to it.
		undone, err := q.GetStep(ctx, nightID, n.LineUpStep)
		if err != nil {
			return err
		}
		label = undone.What
		return goTo(ctx, q, n, n.LineUpStep-1, "undo: "+label)
	})
	return label, err
}

// Redo takes the last Undo back and returns the label of what it did again;
// fault.Conflict when there is none.
func (s *Store) Redo(ctx context.Context, nightID int64) (label string, err error) {
	err = s.write(ctx, "redo", func(q *db.Queries) error {
		n, steps, err := present(ctx, q, nightID)
		if err != nil {
			return err
		}
		if n.LineUpStep >= steps.HighPosition {
			return fault.New(fault.Conflict, "There is nothing to redo.")
		}
		redone, err := q.GetStep(ctx, nightID, n.LineUpStep+1)
		if err != nil {
			return err
		}
		label = redone.What
		return goTo(ctx, q, n, n.LineUpStep+1, "redo: "+label)
	})
	return label, err
}

// present returns a night and the range of its steps.
func present(ctx context.Context, q *db.Queries, nightID int64) (n db.Night, steps db.StepRangeRow, err error) {
	if n, err = q.GetNight(ctx, nightID); err != nil {
		return n, steps, missing(err, "night", nightID)
	}
	steps, err = q.StepRange(ctx, nightID)
	return n, steps, err
}

// goTo puts the line-up of a step in force.
func goTo(ctx context.Context, q *db.Queries, n db.Night, position int64, what string) error {
	step, err := q.GetStep(ctx, n.ID, position)
	if err != nil {
		return err
	}
	if err := raiseLineUp(ctx, q, n.ID, n.LineUpVersion); err != nil {
		return err
	}
	if err := putLineUp(ctx, q, n.ID, *step.LineUp.V); err != nil {
		return err
	}
	if err := q.SetLineUpStep(ctx, position, n.ID); err != nil {
		return err
	}
	_, err = noteLineUp(ctx, q, n.ID, what)
	return err
}

// beginSteps gives a new night its floor: the empty line-up.
func beginSteps(ctx context.Context, q *db.Queries, nightID int64) error {
	entry, err := noteLineUp(ctx, q, nightID, "make the night")
	if err != nil {
		return err
	}
	return q.InsertStep(ctx, db.InsertStepParams{NightID: nightID, Position: 0, LogID: entry})
}

// appendStep records the line-up as it is now as the step after the present.
func appendStep(ctx context.Context, q *db.Queries, nightID int64, label string) error {
	n, err := q.GetNight(ctx, nightID)
	if err != nil {
		return err
	}
	if err := q.DeleteStepsAfter(ctx, nightID, n.LineUpStep); err != nil {
		return err
	}
	entry, err := noteLineUp(ctx, q, nightID, label)
	if err != nil {
		return err
	}
	next := n.LineUpStep + 1
	if err := q.InsertStep(ctx, db.InsertStepParams{NightID: nightID, Position: next, LogID: entry}); err != nil {
		return err
	}
	if err := q.DeleteStepsBefore(ctx, nightID, next-keptSteps); err != nil {
		return err
	}
	return q.SetLineUpStep(ctx, next, nightID)
}

// noteLineUp writes the line-up as it is now into the history.
func noteLineUp(ctx context.Context, q *db.Queries, nightID int64, what string) (entry int64, err error) {
	now, err := lineUpNow(ctx, q, nightID)
	if err != nil {
		return 0, err
	}
	return q.InsertLog(ctx, db.InsertLogParams{
		NightID: nightID, Who: night.Who(ctx), What: what, LineUp: column.LineUp{V: &now},
	})
}
