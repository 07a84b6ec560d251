package nightfile

import (
	"encoding/json"
	"io"

	"duskboard/internal/night"
)

// Write writes a night as a file that Read reads back to the same plan.
func Write(w io.Writer, p night.Plan) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(Of(p))
}

// Of turns a plan into the document.
func Of(p night.Plan) File {
	f := File{
		Format: Format, Note: p.Remark,
		Club: Club{Name: p.Club.Name, MinAltitude: p.Club.MinAltitude, Ladders: p.Club.Ladders},
		Site: Site{
			Name: p.Site.Name, Latitude: p.Site.Place.Lat, Longitude: p.Site.Place.Lon, Elevation: p.Site.Place.Elev, Zone: p.Site.Zone,
			Brightness: p.Site.Brightness, Ladders: p.Site.Ladders, Ground: p.Site.Ground, Power: p.Site.Power, Notes: p.Site.Notes,
		},
		Night: Night{
			Name: p.Night.Name, Date: p.Night.Date.String(), PublicFrom: p.Night.PublicFrom.UTC(), PublicMinutes: p.Night.Public.Minutes(),
			BlockMinutes: p.Night.Block.Minutes(), Guests: p.Night.Guests, Audience: string(p.Night.Audience), Seeing: p.Night.Seeing, Notes: p.Night.Notes,
		},
		Kit: p.Kit, Targets: append([]string{}, p.Targets...), MustShow: p.MustShow, Places: placesOf(p.Places),
	}
	f.Site.FieldPlan = fieldPlanOf(p.Ground)
	for _, h := range p.Site.Horizon {
		f.Site.Horizon = append(f.Site.Horizon, Outline{h.Az, h.Alt})
	}
	if len(p.Weather.Hours) > 0 {
		f.Weather = &Weather{Source: p.Weather.Source, Attribution: p.Weather.Attribution, IssuedAt: p.Weather.IssuedAt, Notes: p.Weather.Notes, Hours: p.Weather.Entries()}
	}
	for _, v := range p.Volunteers {
		x := Volunteer{ID: v.ID, Name: v.Name, Minor: v.Minor, Roles: v.Roles, Languages: v.Languages, Drive: v.DriveMinutes, Limits: Limits(v.Limits)}
		for _, k := range v.Skills {
			x.Skills = append(x.Skills, Skill{k.InstrumentID, k.Mount, k.Level})
		}
		for _, a := range p.Availability {
			if a.VolunteerID == v.ID {
				x.Answer, x.From, x.To, x.Wishes, x.Tonight = a.Answer, a.From, a.To, a.Wishes, a.DriveMinutes
			}
		}
		f.Volunteers = append(f.Volunteers, x)
	}
	for _, s := range p.Showings {
		f.Showings = append(f.Showings, Showing{s.InstrumentID, s.TargetID, s.EyepieceID, s.AmplifierID, s.DiagonalID, s.FilterID, s.From, s.Length.Minutes(), s.Pinned, s.BackupID})
	}
	for _, x := range p.Forbidden {
		f.Forbidden = append(f.Forbidden, Pair{x.InstrumentID, x.TargetID})
	}
	for _, d := range p.Duties {
		f.Duties = append(f.Duties, Duty{d.VolunteerID, d.Role, d.InstrumentID, d.From, d.Length.Minutes(), d.Pinned})
	}
	for _, t := range p.Own {
		f.OwnTargets = append(f.OwnTargets, ownOf(t))
	}
	for _, s := range p.Satellites {
		f.Satellites = append(f.Satellites, Satellite{Name: s.Name, Elements: s.Elements})
	}
	return f
}
