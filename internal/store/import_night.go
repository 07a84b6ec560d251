package store

import (
	"context"
	"database/sql"

	"duskboard/internal/crew"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// ImportNight makes a night out of a file, with all it needs that the club
// lacks, in one transaction: all of it or nothing. What has a positive id is
// there already and stays as it is. It returns the id of the night. An error of
// kind Invalid names what was refused.
func (s *Store) ImportNight(ctx context.Context, x night.Import) (id int64, err error) {
	err = s.write(ctx, "import night", func(q *db.Queries) error {
		in := nightImport{importing: importing{ctx: ctx, q: q, ids: map[int64]int64{}}, x: x, own: map[string]string{}}
		id, err = in.run()
		return err
	})
	return id, err
}

// nightImport is the import of a night under way: ids that are new in it and
// what they became.
type nightImport struct {
	importing
	x      night.Import
	people map[int64]int64
	own    map[string]string
}

func (in *nightImport) run() (int64, error) {
	for _, part := range []func() error{in.club, in.site, in.ground, in.crew, in.kit, in.skills, in.targets, in.satellites} {
		if err := part(); err != nil {
			return 0, err
		}
	}
	return in.night()
}

func (in *nightImport) club() error {
	if !in.x.TakeClub {
		return nil
	}
	c, err := club(in.ctx, in.q)
	if err != nil {
		return err
	}
	f := in.x.Club
	if f.Name == "" {
		f.Name = c.Name
	}
	_, err = in.q.UpdateClub(in.ctx, db.UpdateClubParams{
		Version: c.Version, Name: f.Name, Paper: c.Paper, Inches: c.Inches,
		MinAltitude: f.MinAltitude, Ladders: f.Ladders, Contact: c.Contact, SpotLongitude: column.Real(c.SpotLongitude),
	})
	return refused(err, f.Name)
}

func (in *nightImport) site() error {
	s := &in.x.Site
	if s.ID > 0 {
		in.x.Night.SiteID = s.ID
		return nil
	}
	id, err := in.q.PutSite(in.ctx, db.PutSiteParams{
		Name: s.Name, Lat: s.Place.Lat, Lon: s.Place.Lon, Elev: s.Place.Elev,
		Zone: s.Zone, Horizon: corners(s.Horizon), Brightness: s.Brightness,
		Ground: s.Ground, Power: s.Power, Ladders: s.Ladders, Notes: s.Notes,
	})
	in.x.Night.SiteID = id
	return refused(err, s.Name)
}

// ground saves the plan of the site's ground when it is the file's; one that
// the club has drawn has a version and stays.
func (in *nightImport) ground() error {
	g := in.x.Ground
	if g.Version > 0 || g.Empty() {
		return nil
	}
	if err := g.Check().OrNil(); err != nil {
		return err
	}
	return writeGround(in.ctx, in.q, in.x.Night.SiteID, &g)
}

// crew saves new volunteers without their skills: those may name instruments
// that are not saved yet, and instruments may name owners.
func (in *nightImport) crew() error {
	in.people = map[int64]int64{}
	for i := range in.x.Volunteers {
		v := in.x.Volunteers[i]
		in.people[v.ID] = v.ID
		if v.ID > 0 {
			continue
		}
		v.Skills = nil
		id, err := in.q.PutVolunteer(in.ctx, volunteerParams(sql.NullInt64{}, &v))
		if err != nil {
			return refused(err, v.Name)
		}
		in.people[in.x.Volunteers[i].ID] = id
	}
	return nil
}

// skills saves the new volunteers' skills.
func (in *nightImport) skills() error {
	for _, v := range in.x.Volunteers {
		if v.ID > 0 || len(v.Skills) == 0 {
			continue
		}
		v.ID = in.people[v.ID]
		v.Skills = append([]crew.Skill(nil), v.Skills...)
		for i := range v.Skills {
			v.Skills[i].InstrumentID = in.gear(v.Skills[i].InstrumentID)
		}
		if _, err := in.q.PutVolunteer(in.ctx, volunteerParams(sql.NullInt64{Int64: v.ID, Valid: true}, &v)); err != nil {
			return refused(err, v.Name)
		}
	}
	return nil
}

// gear is the row that a piece of the import became.
func (in *nightImport) gear(id int64) int64 {
	if now, ok := in.ids[id]; ok {
		return now
	}
	return max(id, 0)
}

// kit saves those pieces that are new.
func (in *nightImport) kit() error {
	k := in.x.Kit
	return importKit(in.importing, kit.Kit{
		Instruments: fresh(in, k.Instruments, func(x *kit.Instrument) *kit.Base { return &x.Base }),
		Eyepieces:   fresh(in, k.Eyepieces, func(x *kit.Eyepiece) *kit.Base { return &x.Base }),
		Amplifiers:  fresh(in, k.Amplifiers, func(x *kit.Amplifier) *kit.Base { return &x.Base }),
		Diagonals:   fresh(in, k.Diagonals, func(x *kit.Diagonal) *kit.Base { return &x.Base }),
		Filters:     fresh(in, k.Filters, func(x *kit.Filter) *kit.Base { return &x.Base }),
		Finders:     fresh(in, k.Finders, func(x *kit.Finder) *kit.Base { return &x.Base }),
		DewGear:     fresh(in, k.DewGear, func(x *kit.DewGear) *kit.Base { return &x.Base }),
		Batteries:   fresh(in, k.Batteries, func(x *kit.Battery) *kit.Base { return &x.Base }),
		Steps:       fresh(in, k.Steps, func(x *kit.Steps) *kit.Base { return &x.Base }),
	})
}

// fresh are the new pieces of a list, owned by the rows that people became.
func fresh[T any](in *nightImport, xs []T, base func(*T) *kit.Base) []T {
	var out []T
	for _, x := range xs {
		if b := base(&x); b.ID < 0 {
			b.OwnerID, b.Version = in.people[b.OwnerID], 0
			out = append(out, x)
		}
	}
	return out
}

func (in *nightImport) targets() error {
	for i := range in.x.Own {
		o := &in.x.Own[i]
		if o.Version > 0 {
			continue
		}
		id, err := in.q.PutOwnTarget(in.ctx, ownTargetParams(sql.NullInt64{}, o))
		if err != nil {
			return refused(err, o.Name)
		}
		in.own[o.ID] = ownID(id)
	}
	return nil
}

func (in *nightImport) target(id string) string {
	if now, ok := in.own[id]; ok {
		return now
	}
	return id
}

func (in *nightImport) satellites() error {
	for _, s := range in.x.Satellites {
		if s.ID > 0 {
			continue
		}
		if _, err := in.q.AddSatellite(in.ctx, db.AddSatelliteParams{Name: s.Name, Elements: s.Elements, AddedAt: column.At(s.AddedAt)}); err != nil {
			return refused(err, s.Name)
		}
	}
	return nil
}

// night saves the night itself and what hangs on it.
func (in *nightImport) night() (int64, error) {
	ctx, q := in.ctx, in.q
	id, err := q.PutNight(ctx, nightParams(sql.NullInt64{}, &in.x.Night))
	if err != nil {
		return 0, refused(err, in.x.Night.Name)
	}
	c := in.choice()
	if err := putNightGear(ctx, q, id, c); err != nil {
		return 0, err
	}
	if err := putNightTargets(ctx, q, id, c); err != nil {
		return 0, err
	}
	if err := putAvailability(ctx, q, id, c); err != nil {
		return 0, err
	}
	if err := putWeather(ctx, q, id, in.x.Weather); err != nil {
		return 0, err
	}
	if err := putShowings(ctx, q, id, in.showings()); err != nil {
		return 0, err
	}
	if err := putForbidden(ctx, q, id, in.forbidden()); err != nil {
		return 0, err
	}
	if err := putDuties(ctx, q, id, in.duties()); err != nil {
		return 0, err
	}
	if err := beginPlaces(ctx, q, id, in.places()); err != nil {
		return 0, err
	}
	if err := beginSteps(ctx, q, id); err != nil {
		return 0, err
	}
	if len(in.x.Duties) > 0 {
		if err := noteRoster(ctx, q, id, "bring the roster in from a night file"); err != nil {
			return 0, err
		}
	}
	return id, note(ctx, q, id, "bring the night in from a night file")
}

// choice is what was chosen for the night, by the club's own ids.
func (in *nightImport) choice() night.Choice {
	c := in.x.Plan.Choice()
	for _, list := range [][]int64{c.Instruments, c.Eyepieces, c.Amplifiers, c.Diagonals, c.Filters, c.Finders, c.DewGear, c.Batteries, c.Steps} {
		for i := range list {
			list[i] = in.gear(list[i])
		}
	}
	for _, list := range [][]string{c.Targets, c.MustShow} {
		for i := range list {
			list[i] = in.target(list[i])
		}
	}
	for i := range c.Availability {
		c.Availability[i].VolunteerID = in.people[c.Availability[i].VolunteerID]
	}
	return c
}

func (in *nightImport) showings() []lineup.Showing {
	var out []lineup.Showing
	for _, s := range in.x.Showings {
		s.ID = 0
		s.InstrumentID, s.EyepieceID, s.AmplifierID = in.gear(s.InstrumentID), in.gear(s.EyepieceID), in.gear(s.AmplifierID)
		s.DiagonalID, s.FilterID = in.gear(s.DiagonalID), in.gear(s.FilterID)
		s.TargetID, s.BackupID = in.target(s.TargetID), in.target(s.BackupID)
		out = append(out, s)
	}
	return out
}

func (in *nightImport) forbidden() []lineup.Pair {
	var out []lineup.Pair
	for _, p := range in.x.Forbidden {
		out = append(out, lineup.Pair{InstrumentID: in.gear(p.InstrumentID), TargetID: in.target(p.TargetID)})
	}
	return out
}

func (in *nightImport) places() []ground.Place {
	var out []ground.Place
	for _, p := range in.x.Places {
		p.InstrumentID = in.gear(p.InstrumentID)
		out = append(out, p)
	}
	return out
}

func (in *nightImport) duties() []crew.Duty {
	var out []crew.Duty
	for _, d := range in.x.Duties {
		d.ID, d.VolunteerID, d.InstrumentID = 0, in.people[d.VolunteerID], in.gear(d.InstrumentID)
		out = append(out, d)
	}
	return out
}
