package store

import (
	"context"
	"database/sql"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// forgottenName stands where the name of somebody was who is forgotten.
const forgottenName = "a volunteer"

// ForgetVolunteer takes out everything that names a volunteer: past duties
// stay as those of "a volunteer", duties and answers from today on go, links
// stop working, gear of theirs has no owner any more, and the histories and the
// bin name nobody. It returns the free texts that still hold the name, e-mail
// or phone, as "notes of nights": those are other people's words, for a
// coordinator to look through.
func (s *Store) ForgetVolunteer(ctx context.Context, id int64, today sky.Date) (left []string, err error) {
	err = s.writeTx(ctx, "forget volunteer", func(tx *sql.Tx, q *db.Queries) error {
		v, err := q.GetVolunteer(ctx, id)
		if err != nil {
			return missing(err, "volunteer", id)
		}
		if err := forget(ctx, tx, q, id, today); err != nil {
			return err
		}
		left, err = stillNaming(ctx, tx, v)
		return err
	})
	if err != nil {
		return nil, err
	}
	return left, s.wipe(ctx)
}

// forget is the part that Discard shares.
func forget(ctx context.Context, tx querier, q *db.Queries, id int64, today sky.Date) error {
	v, err := q.GetVolunteer(ctx, id)
	if err != nil {
		return missing(err, "volunteer", id)
	}
	ahead, err := q.ListNightsAhead(ctx, id, column.Date{Date: today})
	if err != nil {
		return err
	}
	for _, n := range ahead {
		if err := q.DeleteDutiesOf(ctx, n, id); err != nil {
			return err
		}
		if err := q.BumpRoster(ctx, n); err != nil {
			return err
		}
		if err := noteRoster(ctx, q, n, "forget a volunteer"); err != nil {
			return err
		}
	}
	if err := q.DeleteAnswersOf(ctx, id, column.Date{Date: today}); err != nil {
		return err
	}
	for _, clear := range []func(context.Context, int64) error{q.ClearWishesOf, q.DeleteLiftsOf, q.DeletePackingOf, q.DeleteCrewLinks, q.DeleteConsents, q.ForgetVolunteer} {
		if err := clear(ctx, id); err != nil {
			return err
		}
	}
	if err := q.DisownGear(ctx, column.Ref(id)); err != nil {
		return err
	}
	if _, err := q.TakeBin(ctx, string(night.BinVolunteer), id); err != nil {
		return err
	}
	if v.Forgotten {
		return nil // the name is that of everybody who was
	}
	if err := unname(ctx, tx, v.Name); err != nil {
		return err
	}
	who := night.Who(ctx)
	if who == v.Name {
		who = ""
	}
	return q.InsertClubLog(ctx, who, "forget a volunteer")
}

// unname takes a name out of every history: the columns who and what, whatever
// table has them.
func unname(ctx context.Context, tx querier, name string) error {
	all, err := tables(ctx, tx)
	if err != nil {
		return err
	}
	for _, t := range all {
		if _, ok := t.column("who"); ok {
			_, err := tx.ExecContext(ctx, "UPDATE "+quoted(t.name)+" SET who = ? WHERE who = ?", forgottenName, name)
			if err != nil {
				return err
			}
		}
		_, what := t.column("what")
		_, id := t.column("id")
		if !what || !id {
			continue
		}
		if err := unnameWhat(ctx, tx, t, name); err != nil {
			return err
		}
	}
	// Who kept a line-up that lies in the bin.
	_, err = tx.ExecContext(ctx, "UPDATE bin SET content = json_set(content, '$.who', ?) WHERE content ->> '$.who' = ?", forgottenName, name)
	return err
}

func unnameWhat(ctx context.Context, tx querier, t table, name string) error {
	found, err := pairs(ctx, tx, "SELECT CAST(id AS TEXT), what FROM "+quoted(t.name)+" WHERE instr(what, ?) > 0", name)
	if err != nil {
		return err
	}
	for _, f := range found {
		words := replaceWord(f[1], name, forgottenName)
		if _, err := tx.ExecContext(ctx, "UPDATE "+quoted(t.name)+" SET what = ? WHERE id = ?", words, f[0]); err != nil {
			return err
		}
	}
	return nil
}

// replaceWord replaces name where it stands as words of its own: "Al" does not
// stand in "Almanac".
func replaceWord(s, name, with string) string {
	var b strings.Builder
	for {
		at := wordAt(s, name)
		if at < 0 {
			return b.String() + s
		}
		b.WriteString(s[:at])
		b.WriteString(with)
		s = s[at+len(name):]
	}
}

// wordAt is where name stands as words of its own, -1 when it does not.
func wordAt(s, name string) int {
	part := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	for from := 0; name != ""; {
		at := strings.Index(s[from:], name)
		if at < 0 {
			return -1
		}
		at += from
		before, _ := utf8.DecodeLastRuneInString(s[:at])
		after, _ := utf8.DecodeRuneInString(s[at+len(name):])
		if !part(before) && !part(after) {
			return at
		}
		from = at + 1
	}
	return -1
}

// stillNaming lists the texts in which a volunteer's name, e-mail or phone
// stands after everything was taken out.
func stillNaming(ctx context.Context, tx querier, v db.Volunteer) (left []string, err error) {
	if v.Forgotten {
		return nil, nil
	}
	all, err := tables(ctx, tx)
	if err != nil {
		return nil, err
	}
	for _, t := range all {
		for _, c := range t.columns {
			if c.kind != "TEXT" {
				continue
			}
			for _, words := range []string{v.Name, v.Email, v.Phone} {
				if words == "" {
					continue
				}
				found, err := pairs(ctx, tx, "SELECT '', "+quoted(c.name)+" FROM "+quoted(t.name)+" WHERE instr("+quoted(c.name)+", ?) > 0", words)
				if err != nil {
					return nil, err
				}
				place := strings.ReplaceAll(c.name+" of "+t.name, "_", " ")
				if slices.ContainsFunc(found, func(f [2]string) bool { return wordAt(f[1], words) >= 0 }) && !slices.Contains(left, place) {
					left = append(left, place)
				}
			}
		}
	}
	return left, nil
}

// wipe writes the log into the database file and empties it, so that what was
// overwritten stands in neither. While somebody reads, part of the log stays
// until the next time; that is no error.
func (s *Store) wipe(ctx context.Context) error {
	var busy, frames, moved int
	return translate(s.writer.QueryRowContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &frames, &moved))
}
