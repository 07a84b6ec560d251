package store_test

import (
	"context"
	"testing"
	"time"

	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
)

// TestKeptLineUps guards that what has a name is exactly what was in force,
// that bringing it back is one step of undo, and that a stale page keeps
// nothing.
func TestKeptLineUps(t *testing.T) {
	s := openAt(t, oldDatabase(t, 8))
	ctx := night.By(context.Background(), "Ada")
	p, err := s.Plan(ctx, 8)
	must(t, err)
	first, pairs := p.Showings, p.Forbidden

	id, err := s.KeepLineUp(ctx, 8, p.LineUpVersion, "first idea")
	must(t, err)
	if _, err := s.KeepLineUp(ctx, 8, p.LineUpVersion, "first idea"); fault.KindOf(err) != fault.Conflict {
		t.Errorf("a second one of the same name: %v, want a conflict", err)
	}
	if _, err := s.KeepLineUp(ctx, 8, p.LineUpVersion-1, "stale"); fault.KindOf(err) != fault.Conflict {
		t.Errorf("kept from a stale page: %v, want a conflict", err)
	}
	if _, err := s.KeepLineUp(ctx, 99, 1, "nowhere"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("kept for no night: %v, want not found", err)
	}

	later := []lineup.Showing{{InstrumentID: 11, TargetID: "m13", EyepieceID: 12, From: evening, Length: time.Hour}}
	v, err := s.SaveLineUp(ctx, 8, p.LineUpVersion, later, nil, "change both")
	must(t, err)
	if later[0].ID == 0 {
		t.Error("a new showing got no id")
	}
	if _, err := s.RestoreKept(ctx, 8, v-1, id); fault.KindOf(err) != fault.Conflict {
		t.Errorf("restored with an old version: %v, want a conflict", err)
	}
	_, err = s.RestoreKept(ctx, 8, v, id)
	must(t, err)
	p, err = s.Plan(ctx, 8)
	must(t, err)
	same(t, "showings brought back", first, p.Showings)
	same(t, "pairs brought back", pairs, p.Forbidden)
	_, err = s.Undo(ctx, 8)
	must(t, err)
	p, err = s.Plan(ctx, 8)
	must(t, err)
	same(t, "showings after undo", later, p.Showings)
	if len(p.Forbidden) != 0 {
		t.Errorf("undo leaves the pairs %v: both changed in one step", p.Forbidden)
	}

	all, err := s.KeptLineUps(ctx, 8)
	must(t, err)
	if len(all) != 1 || all[0].Name != "first idea" || all[0].Who != "Ada" || all[0].At.IsZero() {
		t.Fatalf("kept %+v", all)
	}
	k, err := s.KeptLineUp(ctx, 8, id)
	must(t, err)
	same(t, "kept showings", first, k.Showings)
	must(t, s.ForgetKept(ctx, 8, id))
	if err := s.ForgetKept(ctx, 8, id); fault.KindOf(err) != fault.NotFound {
		t.Errorf("forgotten twice: %v, want not found", err)
	}
}
