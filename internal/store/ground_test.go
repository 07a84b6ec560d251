package store_test

import (
	"context"
	"testing"

	"duskboard/internal/fault"
	"duskboard/internal/ground"
	"duskboard/internal/night"
)

func aGround() ground.Ground {
	return ground.Ground{
		Outline: []ground.Point{{X: 0, Y: 0}, {X: 50.5, Y: 0}, {X: 50, Y: 30}},
		Features: []ground.Feature{
			{Kind: ground.Gate, Name: "ворота 門", At: []ground.Point{{X: 49, Y: 1}}},
			{Kind: ground.Path, At: []ground.Point{{X: 49, Y: 1}, {X: 20, Y: 2}}, Width: 1.5, Wheels: true},
			{Kind: ground.Tree, Name: "the ash", At: []ground.Point{{X: 30, Y: 10}}, Radius: 2.5, Height: 14},
		},
	}
}

// TestGroundIsKeptAndTakenBack guards the description of a site's ground:
// what goes in comes out, an older version is refused, undo and undo again.
func TestGroundIsKeptAndTakenBack(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	site := aSite(t, s)
	none, err := s.Ground(ctx, site.ID)
	must(t, err)
	if !none.Empty() || none.Version != 0 || none.CanUndo {
		t.Errorf("a new site's ground is %+v", none)
	}
	g := aGround()
	must(t, s.SaveGround(ctx, site.ID, &g))
	got, err := s.Ground(ctx, site.ID)
	must(t, err)
	same(t, "first ground", g, got)
	if g.Version != 1 || g.CanUndo {
		t.Errorf("after the first save: version %d, undo %v", g.Version, g.CanUndo)
	}

	next := g
	next.Features = next.Features[:1]
	must(t, s.SaveGround(ctx, site.ID, &next))
	stale := g
	wantKind(t, s.SaveGround(ctx, site.ID, &stale), fault.Conflict, "save of an older ground")
	bad := next
	bad.Outline = nil
	wantKind(t, s.SaveGround(ctx, site.ID, &bad), fault.Invalid, "save of a ground without an outline")
	wantKind(t, s.SaveGround(ctx, 1<<40, &next), fault.NotFound, "ground of no site")

	back, err := s.UndoGround(ctx, site.ID, next.Version)
	must(t, err)
	same(t, "features after undo", g.Features, back.Features)
	again, err := s.UndoGround(ctx, site.ID, back.Version)
	must(t, err)
	same(t, "features after the second undo", next.Features, again.Features)
	_, err = s.UndoGround(ctx, site.ID, back.Version)
	wantKind(t, err, fault.Conflict, "undo from an older page")
	got, err = s.Ground(ctx, site.ID)
	must(t, err)
	same(t, "after a refused undo", again, got)
}

// TestPlacesAreStepsOfUndo guards the places of a night: version, undo, redo,
// a new change after an undo, and the history.
func TestPlacesAreStepsOfUndo(t *testing.T) {
	ctx := night.By(context.Background(), "Ada")
	s := open(t)
	n := aNight(t, s)
	a, b := anInstrument(t, s, "a"), anInstrument(t, s, "b")
	at := func(id int64, x float64) ground.Place {
		return ground.Place{InstrumentID: id, Number: int(x), At: ground.Point{X: x, Y: 2.5}, Queue: 337.5, Pinned: id == a.ID}
	}
	first, second := []ground.Place{at(a.ID, 1), at(b.ID, 2)}, []ground.Place{at(b.ID, 3)}
	v, err := s.SavePlaces(ctx, n.ID, 0, first, "suggest places")
	must(t, err)
	v, err = s.SavePlaces(ctx, n.ID, v, second, "move b")
	must(t, err)
	_, err = s.SavePlaces(ctx, n.ID, 0, first, "late")
	wantKind(t, err, fault.Conflict, "save of older places")
	_, err = s.SavePlaces(ctx, 1<<40, 0, first, "nowhere")
	wantKind(t, err, fault.NotFound, "places of no night")
	_, err = s.SavePlaces(ctx, n.ID, v, []ground.Place{at(1<<40, 1)}, "no such instrument")
	if err == nil {
		t.Error("a place for an instrument that is not there was saved")
	}

	plan := func() night.Plan {
		p, err := s.Plan(ctx, n.ID)
		must(t, err)
		return p
	}
	p := plan()
	same(t, "places", second, p.Places)
	if p.FieldVersion != v || !p.CanUndoPlaces || p.CanRedoPlaces {
		t.Errorf("version %d, undo %v, redo %v", p.FieldVersion, p.CanUndoPlaces, p.CanRedoPlaces)
	}
	label, err := s.UndoPlaces(ctx, n.ID)
	must(t, err)
	if label != "move b" {
		t.Errorf("undone: %q", label)
	}
	same(t, "places after undo", first, plan().Places)
	label, err = s.RedoPlaces(ctx, n.ID)
	must(t, err)
	if label != "move b" {
		t.Errorf("done again: %q", label)
	}
	_, err = s.RedoPlaces(ctx, n.ID)
	wantKind(t, err, fault.Conflict, "redo past the end")
	for range 2 {
		_, err = s.UndoPlaces(ctx, n.ID)
		must(t, err)
	}
	if p := plan(); len(p.Places) != 0 || p.CanUndoPlaces || !p.CanRedoPlaces {
		t.Errorf("after all is undone: %+v, undo %v, redo %v", p.Places, p.CanUndoPlaces, p.CanRedoPlaces)
	}
	_, err = s.UndoPlaces(ctx, n.ID)
	wantKind(t, err, fault.Conflict, "undo past the beginning")
	_, err = s.SavePlaces(ctx, n.ID, plan().FieldVersion, second, "begin anew")
	must(t, err)
	if plan().CanRedoPlaces {
		t.Error("what was undone can be done again after another change")
	}
	es, err := s.History(ctx, n.ID)
	must(t, err)
	if es[0].What != "begin anew" || es[0].Who != "Ada" || es[1].What != "undo: suggest places" {
		t.Errorf("the history says %+v, %+v", es[0], es[1])
	}
}
