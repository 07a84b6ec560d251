package web

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"unicode/utf8"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// KeptStore keeps line-ups under a name beside the one in force.
type KeptStore interface {
	KeepLineUp(ctx context.Context, nightID, lineUpVersion int64, name string) (int64, error)
	KeptLineUps(ctx context.Context, nightID int64) ([]night.Kept, error)
	KeptLineUp(ctx context.Context, nightID, id int64) (night.Kept, error)
	RestoreKept(ctx context.Context, nightID, lineUpVersion, id int64) (int64, error)
	ForgetKept(ctx context.Context, nightID, id int64) error
}

func versionsPath(nightID int64) string { return lineUpPath(nightID) + "/versions" }

// longestName is how many letters a kept line-up's name may have.
const longestName = 60

// showVersions lists what is kept, each with its score beside the present one.
func (s *server) showVersions(w http.ResponseWriter, r *http.Request) error {
	return s.versionsPage(w, r, http.StatusOK, "", "")
}

func (s *server) versionsPage(w http.ResponseWriter, r *http.Request, status int, typed, errWords string) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	kept, err := s.store.KeptLineUps(r.Context(), sh.Night.ID)
	if err != nil {
		return err
	}
	m := sh.Fits()
	v := views.VersionsModel{
		Over: overline(sh), Base: versionsPath(sh.Night.ID), Back: lineUpPath(sh.Night.ID), Version: sh.LineUpVersion,
		Now: fmt.Sprintf("%s, %.0f good looks", plural(len(sh.Showings), "showing", "showings"), sh.Input.Worth(m, sh.Showings)),
	}
	v.Name = views.Field{Name: "name", Label: "Name of the present line-up", Placeholder: "as agreed on Tuesday", Value: typed, Error: errWords, Width: "mid"}
	for _, k := range kept {
		row := views.KeptRow{ID: k.ID, Name: k.Name, Href: fmt.Sprintf("%s/%d", v.Base, k.ID)}
		row.Words = sentence(plural(len(k.Showings), "showing", "showings")+fmt.Sprintf(", %.0f good looks; kept %s", sh.Input.Worth(m, k.Showings), k.At.In(sh.Zone).Format("2 January, 15:04")), byWhom(k.Who))
		v.Kept = append(v.Kept, row)
	}
	return s.show(w, r, status, views.Head{Title: "Kept line-ups · " + sh.Night.Name, Section: inNights, Crumbs: lineUpCrumbs(sh)}, views.Versions(v))
}

func byWhom(who string) string {
	if who == "" {
		return ""
	}
	return "by " + who
}

// keepVersion gives the present line-up a name.
func (s *server) keepVersion(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightSheet(r)
	if err != nil {
		return err
	}
	name := strings.Join(strings.Fields(r.PostFormValue("name")), " ")
	switch {
	case name == "":
		return s.versionsPage(w, r, http.StatusUnprocessableEntity, name, "Give it a name to find it by.")
	case utf8.RuneCountInString(name) > longestName:
		return s.versionsPage(w, r, http.StatusUnprocessableEntity, name, fmt.Sprintf("At most %d letters.", longestName))
	}
	done := fmt.Sprintf("Keep the line-up as “%s”.", name)
	if err := fresh(r, sh, done); err != nil {
		return err
	}
	kept, err := s.store.KeptLineUps(r.Context(), sh.Night.ID)
	if err != nil {
		return err
	}
	for _, k := range kept {
		if k.Name == name {
			return s.versionsPage(w, r, http.StatusUnprocessableEntity, name, "There is one of this name already; choose another.")
		}
	}
	if _, err := s.store.KeepLineUp(r.Context(), sh.Night.ID, sh.LineUpVersion, name); err != nil {
		return err
	}
	return redirect(w, r, versionsPath(sh.Night.ID), views.Flash{Text: fmt.Sprintf("Kept as “%s”.", name)})
}

// keptOf finds the night and the kept line-up of the address.
func (s *server) keptOf(r *http.Request) (*night.Sheet, night.Kept, error) {
	sh, err := s.nightSheet(r)
	if err != nil {
		return nil, night.Kept{}, err
	}
	id, err := idParam(r, "kept")
	if err != nil {
		return nil, night.Kept{}, err
	}
	k, err := s.store.KeptLineUp(r.Context(), sh.Night.ID, id)
	return sh, k, err
}

// showVersion compares a kept line-up with the present one.
func (s *server) showVersion(w http.ResponseWriter, r *http.Request) error {
	sh, k, err := s.keptOf(r)
	if err != nil {
		return err
	}
	m := sh.Fits()
	v := views.VersionModel{
		Over: overline(sh), Name: k.Name, Path: fmt.Sprintf("%s/%d", versionsPath(sh.Night.ID), k.ID), Back: versionsPath(sh.Night.ID), Version: sh.LineUpVersion,
		Scores:  scoreTable(sh, m, []string{"Now", "“" + k.Name + "”"}, sh.Showings, k.Showings),
		Differs: differences(sh, m, sh.Showings, k.Showings),
	}
	for _, c := range sh.Input.Check(m, k.Showings) {
		v.Conflicts = append(v.Conflicts, c.Words)
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: k.Name + " · " + sh.Night.Name, Section: inNights, Crumbs: append(lineUpCrumbs(sh), views.Link{Text: "Kept line-ups", Href: v.Back})}, views.Version(v))
}

// restoreVersion puts a kept line-up in force; undo goes back.
func (s *server) restoreVersion(w http.ResponseWriter, r *http.Request) error {
	sh, k, err := s.keptOf(r)
	if err != nil {
		return err
	}
	done := fmt.Sprintf("“%s” is the line-up now.", k.Name)
	if err := fresh(r, sh, done); err != nil {
		return err
	}
	m := sh.Fits()
	_, err = s.store.RestoreKept(r.Context(), sh.Night.ID, sh.LineUpVersion, k.ID)
	if fault.KindOf(err) == fault.Conflict {
		return stale(done)
	} else if err != nil {
		return err
	}
	return s.answerLineUp(w, r, sh.Night.ID, done+" "+costWords(sh.Input.Worth(m, sh.Showings), sh.Input.Worth(m, k.Showings)), 0)
}

// forgetVersion forgets a kept line-up.
func (s *server) forgetVersion(w http.ResponseWriter, r *http.Request) error {
	sh, k, err := s.keptOf(r)
	if err != nil {
		return err
	}
	if err := s.store.ForgetKept(r.Context(), sh.Night.ID, k.ID); err != nil {
		return err
	}
	return redirect(w, r, versionsPath(sh.Night.ID), views.Flash{Text: fmt.Sprintf("“%s” is forgotten; the line-up in force is as it was.", k.Name)})
}
