package demo

import (
	"context"

	"duskboard/internal/catalog"
	"duskboard/internal/ground"
	"duskboard/internal/night"
)

// meadow is the ground of the first site, paced from the corner at the creek:
// 72 m to the east, 46 m to the north.
func meadow() ground.Ground {
	at := func(xy ...float64) []ground.Point {
		var out []ground.Point
		for i := 0; i+1 < len(xy); i += 2 {
			out = append(out, ground.Point{X: xy[i], Y: xy[i+1]})
		}
		return out
	}
	return ground.Ground{
		Outline: at(0, 0, 72, 0, 72, 40, 56, 46, 0, 46),
		Features: []ground.Feature{
			{Kind: ground.Gate, Name: "the gate", At: at(71, 5)},
			{Kind: ground.Path, Name: "the gravel path", At: at(71, 5, 44, 5, 24, 12), Width: 1.6, Wheels: true},
			{Kind: ground.Path, Name: "the mown way", At: at(44, 5, 46, 32), Width: 1.2},
			{Kind: ground.Tree, Name: "the poplars", At: at(4, 22), Radius: 2.5, Height: 17},
			{Kind: ground.Tree, At: at(4, 30), Radius: 2.5, Height: 15},
			{Kind: ground.Tree, Name: "the willow", At: at(30, 37), Radius: 3, Height: 8},
			{Kind: ground.Hedge, Name: "the north hedge", At: at(0, 45.5, 55, 45.5), Width: 0.8, Height: 2},
			{Kind: ground.Building, Name: "the boathouse", At: at(62, 33, 70, 33, 70, 39, 62, 39), Height: 4.5},
			{Kind: ground.KeepOut, Name: "reeds", At: at(0, 0, 14, 0, 9, 6, 0, 8)},
			{Kind: ground.Lamp, Name: "the boathouse lamp", At: at(66, 39.4), Height: 3},
			{Kind: ground.RedLamp, At: at(69.5, 7)},
		},
	}
}

// FieldStore is what laying out the demo's field needs.
type FieldStore interface {
	Plan(ctx context.Context, nightID int64) (night.Plan, error)
	SavePlaces(ctx context.Context, nightID, version int64, places []ground.Place, label string) (int64, error)
}

// LayOut gives the instruments of the demo's night their places, after the
// line-up: where something low is shown, trees count.
func LayOut(ctx context.Context, st FieldStore, id int64) error {
	p, err := st.Plan(ctx, id)
	if err != nil {
		return err
	}
	sh, err := night.Build(p, catalog.Default())
	if err != nil {
		return err
	}
	_, err = st.SavePlaces(ctx, id, p.FieldVersion, sh.Field().Suggest(nil), "suggest places")
	return err
}
