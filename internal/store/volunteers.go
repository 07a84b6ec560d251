package store

import (
	"context"
	"database/sql"

	"duskboard/internal/crew"
	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// Volunteers returns every volunteer, retired ones too, by name.
func (s *Store) Volunteers(ctx context.Context) (vs []crew.Volunteer, err error) {
	err = s.read(ctx, "load volunteers", func(q *db.Queries) error {
		rows, err := q.ListVolunteers(ctx)
		vs, err = each(rows, err, volunteerOf)
		return err
	})
	return vs, err
}

// Volunteer returns one volunteer.
func (s *Store) Volunteer(ctx context.Context, id int64) (v crew.Volunteer, err error) {
	err = s.read(ctx, "load volunteer", func(q *db.Queries) error {
		r, err := q.GetVolunteer(ctx, id)
		v = volunteerOf(r)
		return missing(err, "volunteer", id)
	})
	return v, err
}

// SaveVolunteer inserts or changes a volunteer.
func (s *Store) SaveVolunteer(ctx context.Context, x *crew.Volunteer) error {
	return s.saveRow(ctx, "volunteer", &x.ID, &x.Version, func(q *db.Queries) row { return volunteerRow(ctx, q, x) })
}

// volunteerRow is how a volunteer is saved, with what they agreed to.
func volunteerRow(ctx context.Context, q *db.Queries, x *crew.Volunteer) row {
	return row{
		what:  "volunteer",
		raise: func(id, v int64) (int64, error) { return q.RaiseVolunteer(ctx, id, v) },
		find:  func(id int64) error { return found(q.GetVolunteer(ctx, id)) },
		put: func(id sql.NullInt64) (int64, error) {
			shared := false
			if id.Valid {
				old, err := q.GetVolunteer(ctx, id.Int64)
				if err != nil {
					return 0, err
				}
				shared = old.Share
			}
			saved, err := q.PutVolunteer(ctx, volunteerParams(id, x))
			if err == nil {
				err = agree(ctx, q, saved, shared, x.Share)
			}
			if err != nil {
				return 0, err
			}
			return saved, binned(ctx, q, night.BinVolunteer, saved, x.Name, x.Retired)
		},
	}
}

func volunteerParams(id sql.NullInt64, x *crew.Volunteer) db.PutVolunteerParams {
	p := db.PutVolunteerParams{
		ID: id, Name: x.Name, Email: x.Email, Phone: x.Phone, Share: x.Share, Minor: x.Minor,
		NoLifting: x.Limits.NoLifting, NoLadder: x.Limits.NoLadder,
		MustSit: x.Limits.MustSit, NoNightDriving: x.Limits.NoNightDriving,
		Languages: x.Languages, DriveMinutes: int64(x.DriveMinutes), Notes: x.Notes, Retired: x.Retired, Brings: x.Brings,
	}
	for _, k := range x.Skills {
		p.Skills = append(p.Skills, column.Skill{Instrument: k.InstrumentID, Mount: k.Mount, Level: string(k.Level)})
	}
	for _, r := range x.Roles {
		p.Roles = append(p.Roles, string(r))
	}
	return p
}

func volunteerOf(r db.Volunteer) crew.Volunteer {
	v := crew.Volunteer{
		ID: r.ID, Version: r.Version, Name: r.Name, Email: r.Email, Phone: r.Phone, Share: r.Share, Minor: r.Minor,
		Limits: crew.Limits{
			NoLifting: r.NoLifting, NoLadder: r.NoLadder,
			MustSit: r.MustSit, NoNightDriving: r.NoNightDriving,
		},
		Languages: r.Languages, DriveMinutes: int(r.DriveMinutes), Notes: r.Notes, Retired: r.Retired, Forgotten: r.Forgotten, Brings: r.Brings,
	}
	for _, k := range r.Skills {
		v.Skills = append(v.Skills, crew.Skill{InstrumentID: k.Instrument, Mount: k.Mount, Level: crew.Level(k.Level)})
	}
	for _, x := range r.Roles {
		v.Roles = append(v.Roles, crew.Role(x))
	}
	return v
}
