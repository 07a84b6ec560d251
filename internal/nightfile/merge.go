package nightfile

import (
	"fmt"
	"reflect"
	"strings"

	"duskboard/internal/crew"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/internal/night"
)

// Stock is what a club has already, without what it put away.
type Stock struct {
	Club       night.Club
	Sites      []night.Site
	Grounds    map[int64]ground.Ground // by site; those that were never drawn may be left out
	Kit        kit.Kit
	Volunteers []crew.Volunteer
	Own        []night.OwnTarget
	Satellites []night.Satellite
	Nights     []night.Night
	Catalogue  night.Catalogue // knows the targets that every club has
}

// empty reports whether the club is as it was made.
func (s Stock) empty() bool {
	return len(s.Sites) == 0 && len(s.Nights) == 0 && len(s.Volunteers) == 0 && len(idsOf(s.Kit).count) == 0
}

// Piece is one thing of the file and what becomes of it.
type Piece struct {
	Kind    string // "site", "instrument", ...
	Name    string
	New     bool
	Differs []string // where the club's own of the same name is not the same; the club's counts
}

// Merge is what taking in a night would do.
type Merge struct {
	Import night.Import
	Pieces []Piece
	Notes  []string // what the club would not take, and what it should know
}

// Merged says what a night would do to a club: what has the name of something
// that the club has is that very thing and stays as the club has it, everything
// else is new. With beside, gear of the same name and other numbers is new,
// too.
func Merged(p night.Plan, have Stock, beside bool) Merge {
	p.Kit = copied(p.Kit)
	m := Merge{Import: night.Import{Plan: p, TakeClub: have.empty()}}
	m.site(have)
	r := renumbering{gear: map[string]map[int64]int64{}, people: map[int64]int64{}, own: map[string]string{}}
	m.kit(&r, have, beside)
	m.people(&r, have)
	m.own(&r, have)
	m.satellites(have)
	m.Import.Plan = r.apply(m.Import.Plan)
	m.notes(have)
	return m
}

// alike compares names as people write them.
func alike(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}

func (m *Merge) site(have Stock) {
	s := &m.Import.Site
	s.ID, m.Import.Ground.Version = 0, 0
	for _, x := range have.Sites {
		if alike(x.Name, s.Name) {
			typed := *s
			typed.ID, typed.Version, typed.Retired = x.ID, x.Version, x.Retired
			piece := Piece{Kind: "site", Name: x.Name, Differs: differs(reflect.ValueOf(x), reflect.ValueOf(typed), "")}
			piece.Differs = append(piece.Differs, m.ground(have.Grounds[x.ID], x.Name)...)
			m.Pieces = append(m.Pieces, piece)
			*s = x
			m.Import.Night.SiteID = x.ID
			return
		}
	}
	m.Import.Night.SiteID = 0
	m.Pieces = append(m.Pieces, Piece{Kind: "site", Name: s.Name, New: true})
}

// ground settles whose plan of the ground counts at a site that the club has:
// its own when it has drawn one, else the file's. It returns how they differ.
func (m *Merge) ground(club ground.Ground, site string) []string {
	file := m.Import.Ground
	if club.Empty() {
		if !file.Empty() {
			m.Notes = append(m.Notes, fmt.Sprintf("The club has no plan of the ground of %s: it takes the file's.", site))
		}
		return nil
	}
	m.Import.Ground = club
	if file.Empty() || sameGround(club, file) {
		return nil
	}
	if len(m.Import.Places) > 0 {
		m.Notes = append(m.Notes, fmt.Sprintf("The file's plan of the ground of %s is another than the club's, which stays. The places on the field come in as they are: look on the night's field whether they fit.", site))
	}
	return []string{"plan of the ground is not the same"}
}

// sameGround reports whether two plans draw the same, whoever keeps them.
func sameGround(a, b ground.Ground) bool {
	return reflect.DeepEqual(fieldPlanOf(a), fieldPlanOf(b))
}

// listWords names the lists of a kit for people.
var listWords = map[string]string{
	"instruments": "instrument", "eyepieces": "eyepiece", "amplifiers": "Barlow, reducer or corrector", "diagonals": "diagonal", "filters": "filter",
	"finders": "finder", "dewGear": "dew gear", "batteries": "battery", "steps": "step",
}

// pieceAt is a piece of a kit as a value to compare.
func pieceAt(k *kit.Kit, list string, i int) reflect.Value {
	lists := map[string]any{
		"instruments": k.Instruments, "eyepieces": k.Eyepieces, "amplifiers": k.Amplifiers, "diagonals": k.Diagonals, "filters": k.Filters,
		"finders": k.Finders, "dewGear": k.DewGear, "batteries": k.Batteries, "steps": k.Steps,
	}
	return reflect.ValueOf(lists[list]).Index(i)
}

func (m *Merge) kit(r *renumbering, have Stock, beside bool) {
	fresh := int64(0)
	used := map[string]map[int64]bool{}
	eachPiece(&m.Import.Kit, func(list string, i int, b *kit.Base, _ *int64) {
		if r.gear[list] == nil {
			r.gear[list], used[list] = map[int64]int64{}, map[int64]bool{}
		}
		piece := Piece{Kind: listWords[list], Name: b.Name, New: true}
		own := pieceAt(&m.Import.Kit, list, i)
		stock := have.Kit
		eachPiece(&stock, func(l string, j int, x *kit.Base, _ *int64) {
			if l != list || x.Retired || !piece.New || used[list][x.ID] || !alike(x.Name, b.Name) {
				return
			}
			d := differs(pieceAt(&stock, l, j), own, "")
			if len(d) > 0 && beside {
				return
			}
			piece.New, piece.Differs = false, d
			used[list][x.ID] = true
			r.gear[list][b.ID] = x.ID
		})
		if piece.New {
			fresh--
			r.gear[list][b.ID] = fresh
		}
		m.Pieces = append(m.Pieces, piece)
	})
}

func (m *Merge) people(r *renumbering, have Stock) {
	used := map[int64]bool{}
	for i, v := range m.Import.Volunteers {
		piece := Piece{Kind: "volunteer", Name: v.Name, New: true}
		for _, x := range have.Volunteers {
			if !x.Retired && !x.Forgotten && !used[x.ID] && alike(x.Name, v.Name) {
				piece.New, used[x.ID] = false, true
				r.people[v.ID] = x.ID
				break
			}
		}
		if piece.New {
			r.people[v.ID] = int64(-1 - i)
		}
		m.Pieces = append(m.Pieces, piece)
	}
}

// own finds the club's own targets again: the same name and the same place or
// elements.
func (m *Merge) own(r *renumbering, have Stock) {
	var fresh []night.OwnTarget
	for i, o := range m.Import.Own {
		piece := Piece{Kind: "own target", Name: o.Name, New: true}
		for _, x := range have.Own {
			if alike(x.Name, o.Name) && x.Elements == o.Elements && (o.Elements != "" || x.Star == o.Star) {
				piece.New = false
				r.own[o.ID] = x.ID
				break
			}
		}
		if piece.New {
			r.own[o.ID] = fmt.Sprintf("new/%d", i+1)
			o.Version = 0
			fresh = append(fresh, o)
		}
		m.Pieces = append(m.Pieces, piece)
	}
	m.Import.Own = fresh
}

func (m *Merge) satellites(have Stock) {
	var fresh []night.Satellite
	for _, s := range m.Import.Satellites {
		piece := Piece{Kind: "satellite", Name: s.Name, New: true}
		for _, x := range have.Satellites {
			if strings.TrimSpace(x.Elements) == strings.TrimSpace(s.Elements) {
				piece.New = false
			}
		}
		if piece.New {
			fresh = append(fresh, s)
		}
		m.Pieces = append(m.Pieces, piece)
	}
	m.Import.Satellites = fresh
}

func (m *Merge) notes(have Stock) {
	p := m.Import
	if p.Remark != "" {
		m.Notes = append(m.Notes, fmt.Sprintf("The file remarks: “%s” A club does not keep that.", p.Remark))
	}
	for _, n := range have.Nights {
		if !n.Retired && n.Date == p.Night.Date && alike(n.Name, p.Night.Name) {
			m.Notes = append(m.Notes, fmt.Sprintf("The club has a night %q on %s already. The file's becomes another one beside it.", n.Name, n.Date))
		}
	}
	if !p.TakeClub && (p.Club.MinAltitude != have.Club.MinAltitude || p.Club.Ladders != have.Club.Ladders) {
		m.Notes = append(m.Notes, fmt.Sprintf("The file's club shows nothing below %g° and ladders are %s; yours stays at %g° and %s. The line-up may be judged otherwise here.",
			p.Club.MinAltitude, allowed(p.Club.Ladders), have.Club.MinAltitude, allowed(have.Club.Ladders)))
	}
	if have.Catalogue == nil {
		return
	}
	for _, id := range p.Targets {
		if _, ok := have.Catalogue.ByID(id); !ok && !strings.HasPrefix(id, "own-") && !strings.HasPrefix(id, "new/") {
			m.Notes = append(m.Notes, fmt.Sprintf("No catalogue here knows the target %q. It stays on the night's list and cannot be shown.", id))
		}
	}
}

func allowed(yes bool) string {
	if yes {
		return "allowed"
	}
	return "not allowed"
}

// ours are fields of which a club keeps its own account: they do not tell two
// pieces apart.
var ours = map[string]bool{"ID": true, "Version": true, "OwnerID": true, "ForID": true, "Notes": true, "Assumed": true, "Name": true, "Stand": true}

// differs lists the fields in which the club's value departs from the file's.
func differs(club, file reflect.Value, under string) []string {
	var out []string
	for i := range club.NumField() {
		f := club.Type().Field(i)
		if ours[f.Name] {
			continue
		}
		a, b := club.Field(i), file.Field(i)
		if f.Type.Kind() == reflect.Struct && f.Type.NumMethod() == 0 {
			out = append(out, differs(a, b, under)...)
			continue
		}
		switch {
		case reflect.DeepEqual(a.Interface(), b.Interface()) || a.Kind() == reflect.Slice && a.Len() == 0 && b.Len() == 0:
		case a.Kind() == reflect.Slice || a.Kind() == reflect.Pointer || a.Kind() == reflect.Struct:
			out = append(out, words(f.Name)+" is not the same")
		default:
			out = append(out, fmt.Sprintf("%s %v here, %v in the file", words(f.Name), shown(a), shown(b)))
		}
	}
	return out
}

// shown is a value as a sentence has it.
func shown(v reflect.Value) any {
	switch {
	case v.Kind() == reflect.Bool && v.Bool():
		return "yes"
	case v.Kind() == reflect.Bool:
		return "no"
	case v.IsZero():
		return "not given"
	}
	return v.Interface()
}

// words turns a field's name into words: "FocalLength" is "focal length".
func words(name string) string {
	var b strings.Builder
	for i, r := range name {
		if i > 0 && r >= 'A' && r <= 'Z' {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
	}
	return strings.ToLower(b.String())
}
