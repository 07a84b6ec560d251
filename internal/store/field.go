package store

import (
	"context"
	"math"

	"duskboard/internal/fault"
	"duskboard/internal/field"
	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// SaveGoRules changes the club's thresholds and decision time.
func (s *Store) SaveGoRules(ctx context.Context, g *night.GoRules) error {
	err := s.write(ctx, "save go rules", func(q *db.Queries) error {
		t := g.Thresholds
		n, err := q.UpdateGoRules(ctx, db.UpdateGoRulesParams{
			Version: g.Version, Decide: int64(g.Decide), Post: int64(g.Post),
			CloudDoubt: t.Cloud.Doubt, CloudOff: t.Cloud.Off, WindDoubt: t.Wind.Doubt, WindOff: t.Wind.Off,
			GustDoubt: t.Gust.Doubt, GustOff: t.Gust.Off, RainDoubt: t.Rain.Doubt, RainOff: t.Rain.Off,
			SeeingDoubt: t.Seeing.Doubt, SeeingOff: t.Seeing.Off, ChillDoubt: t.Chill.Doubt, ChillOff: t.Chill.Off,
			DewMargin: t.DewMargin, MinHours: t.MinHours, GoShare: t.GoShare,
		})
		if err == nil && n == 0 {
			return changed("page of thresholds")
		}
		return err
	})
	if err == nil {
		g.Version++
	}
	return err
}

// AddDecision records what was decided about a night; earlier decisions stay.
func (s *Store) AddDecision(ctx context.Context, nightID int64, d night.Decision) error {
	return s.write(ctx, "add decision", func(q *db.Queries) error {
		if _, err := q.GetNight(ctx, nightID); err != nil {
			return missing(err, "night", nightID)
		}
		err := q.InsertDecision(ctx, db.InsertDecisionParams{NightID: nightID, At: column.At(d.At), Who: d.Who, Verdict: d.Word, Words: d.Words})
		if err != nil {
			return err
		}
		return note(ctx, q, nightID, "decide: "+string(d.Word))
	})
}

// SavePutOut changes how one instrument is handled on a night; one with
// nothing unusual clears it. The newest word wins, so there is no version.
func (s *Store) SavePutOut(ctx context.Context, nightID int64, p night.PutOut) error {
	return s.write(ctx, "save put-out", func(q *db.Queries) error {
		if _, err := q.GetNight(ctx, nightID); err != nil {
			return missing(err, "night", nightID)
		}
		if err := q.DeletePutOut(ctx, nightID, p.InstrumentID); err != nil || p.Usual() {
			return err
		}
		temp := math.NaN()
		if p.StorageTemp != nil {
			temp = *p.StorageTemp
		}
		return q.InsertPutOut(ctx, db.InsertPutOutParams{
			NightID: nightID, InstrumentID: p.InstrumentID, PutOutAt: column.At(p.At), StorageTemp: column.Real(temp), FanOff: p.FanOff,
		})
	})
}

// SavePacking notes what somebody said about an item, in place of what they
// said before.
func (s *Store) SavePacking(ctx context.Context, nightID int64, p night.Packing) error {
	return s.packing(ctx, nightID, p, true)
}

// ForgetPacking takes back what somebody said about an item.
func (s *Store) ForgetPacking(ctx context.Context, nightID int64, item string, volunteerID int64) error {
	return s.packing(ctx, nightID, night.Packing{Item: item, VolunteerID: volunteerID}, false)
}

func (s *Store) packing(ctx context.Context, nightID int64, p night.Packing, keep bool) error {
	return s.write(ctx, "save packing", func(q *db.Queries) error {
		if _, err := q.GetNight(ctx, nightID); err != nil {
			return missing(err, "night", nightID)
		}
		if p.Item == "" {
			return fault.New(fault.Invalid, "Say which item is meant.")
		}
		err := q.DeletePacking(ctx, db.DeletePackingParams{NightID: nightID, Item: p.Item, VolunteerID: p.VolunteerID})
		if err != nil || !keep {
			return err
		}
		return q.InsertPacking(ctx, db.InsertPackingParams{NightID: nightID, Item: p.Item, VolunteerID: p.VolunteerID, Brings: p.Brings})
	})
}

// loadField fills what a plan knows about the field.
func loadField(ctx context.Context, q *db.Queries, p *night.Plan) error {
	g, err := q.GetGoRules(ctx)
	if err != nil {
		return err
	}
	p.GoRules = goRulesOf(g)
	decisions, err := q.ListDecisions(ctx, p.Night.ID)
	p.Decisions, err = each(decisions, err, func(r db.Decision) night.Decision {
		return night.Decision{At: r.At.Time, Who: r.Who, Word: r.Verdict, Words: r.Words}
	})
	if err != nil {
		return err
	}
	outs, err := q.ListPutOuts(ctx, p.Night.ID)
	if p.PutOuts, err = each(outs, err, putOutOf); err != nil {
		return err
	}
	said, err := q.ListPacking(ctx, p.Night.ID)
	p.Packing, err = each(said, err, func(r db.Packing) night.Packing {
		return night.Packing{Item: r.Item, VolunteerID: r.VolunteerID, Brings: r.Brings}
	})
	return err
}

func goRulesOf(r db.GoRule) night.GoRules {
	return night.GoRules{
		Version: r.Version, Decide: int(r.Decide), Post: int(r.Post),
		Thresholds: field.Thresholds{
			Cloud: field.Limit{Doubt: r.CloudDoubt, Off: r.CloudOff}, Wind: field.Limit{Doubt: r.WindDoubt, Off: r.WindOff},
			Gust: field.Limit{Doubt: r.GustDoubt, Off: r.GustOff}, Rain: field.Limit{Doubt: r.RainDoubt, Off: r.RainOff},
			Seeing: field.Limit{Doubt: r.SeeingDoubt, Off: r.SeeingOff}, Chill: field.Limit{Doubt: r.ChillDoubt, Off: r.ChillOff},
			DewMargin: r.DewMargin, MinHours: r.MinHours, GoShare: r.GoShare,
		},
	}
}

func putOutOf(r db.PutOut) night.PutOut {
	p := night.PutOut{InstrumentID: r.InstrumentID, At: r.PutOutAt.Time, FanOff: r.FanOff}
	if t := float64(r.StorageTemp); !math.IsNaN(t) {
		p.StorageTemp = &t
	}
	return p
}
