package store

import (
	"context"
	"encoding/json"
	"time"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// Papers returns how the club prints its cards.
func (s *Store) Papers(ctx context.Context) (p night.Papers, err error) {
	err = s.read(ctx, "load papers", func(q *db.Queries) error {
		r, err := q.GetPapers(ctx)
		p = night.Papers{Layout: r.Layout, Language: r.Language}
		return err
	})
	return p, err
}

// SavePapers changes how the club prints its cards; the newest word wins.
func (s *Store) SavePapers(ctx context.Context, p night.Papers) error {
	return s.write(ctx, "save papers", func(q *db.Queries) error { return q.SetPapers(ctx, p.Layout, p.Language) })
}

// NightPapers returns what the nights say about their papers, by night; one
// that says nothing is missing.
func (s *Store) NightPapers(ctx context.Context) (all map[int64]night.NightPapers, err error) {
	err = s.read(ctx, "load papers of the nights", func(q *db.Queries) error {
		rows, err := q.ListNightPapers(ctx)
		all = make(map[int64]night.NightPapers, len(rows))
		for _, r := range rows {
			all[r.NightID] = night.NightPapers{Published: r.Published, Language: r.Language}
		}
		return err
	})
	return all, err
}

// Publish makes a night's programme public, or takes that back. The night's
// history notes it.
func (s *Store) Publish(ctx context.Context, nightID int64, public bool) error {
	return s.write(ctx, "publish programme", func(q *db.Queries) error {
		if _, err := q.GetNight(ctx, nightID); err != nil {
			return missing(err, "night", nightID)
		}
		if err := q.SetPublished(ctx, nightID, public); err != nil {
			return err
		}
		what := "publish the programme"
		if !public {
			what = "take the programme back"
		}
		return note(ctx, q, nightID, what)
	})
}

// SaveNightLanguage chooses the language of a night's papers; "" is the club's.
func (s *Store) SaveNightLanguage(ctx context.Context, nightID int64, code string) error {
	return s.write(ctx, "save language of the night", func(q *db.Queries) error {
		if _, err := q.GetNight(ctx, nightID); err != nil {
			return missing(err, "night", nightID)
		}
		return q.SetNightLanguage(ctx, nightID, code)
	})
}

// CardWords returns the club's own words in a language, by target.
func (s *Store) CardWords(ctx context.Context, language string) (all map[string]night.CardWords, err error) {
	err = s.read(ctx, "load words of the cards", func(q *db.Queries) error {
		rows, err := q.ListCardWords(ctx, language)
		if err != nil {
			return err
		}
		all = make(map[string]night.CardWords, len(rows))
		for _, r := range rows {
			var w night.CardWords
			if err := json.Unmarshal([]byte(r.Words), &w); err != nil {
				return err
			}
			if !w.Empty() {
				all[r.Target] = w
			}
		}
		return nil
	})
	return all, err
}

// SaveCardWords changes the club's own words on a target; empty ones go back
// to the program's. What stood there before is kept for UndoCardWords.
func (s *Store) SaveCardWords(ctx context.Context, language, target string, w night.CardWords) error {
	text, err := json.Marshal(w)
	if err != nil {
		return err
	}
	return s.write(ctx, "save words of the cards", func(q *db.Queries) error {
		return q.PutCardWords(ctx, db.PutCardWordsParams{Language: language, Target: target, Words: string(text)})
	})
}

// UndoCardWords takes the last change of the words on a target back; done
// twice it brings it again.
func (s *Store) UndoCardWords(ctx context.Context, language, target string) error {
	return s.write(ctx, "undo words of the cards", func(q *db.Queries) error {
		n, err := q.SwapCardWords(ctx, language, target)
		if err == nil && n == 0 {
			return fault.New(fault.NotFound, "There is no change of these words to take back.")
		}
		return err
	})
}

// CardLanguages returns the languages that the club added, removed ones too,
// by code.
func (s *Store) CardLanguages(ctx context.Context) (all []night.CardLanguage, err error) {
	err = s.read(ctx, "load languages of the cards", func(q *db.Queries) error {
		rows, err := q.ListCardLanguages(ctx)
		if err != nil {
			return err
		}
		for _, r := range rows {
			l := night.CardLanguage{Code: r.Code, Name: r.Name, At: r.At.Time, Removed: r.Removed}
			if err := json.Unmarshal([]byte(r.Texts), &l.Texts); err != nil {
				return err
			}
			all = append(all, l)
		}
		return nil
	})
	return all, err
}

// SaveCardLanguage adds a language, or replaces its texts; the earlier ones
// are kept for UndoCardLanguage.
func (s *Store) SaveCardLanguage(ctx context.Context, l night.CardLanguage, at time.Time) error {
	text, err := json.Marshal(l.Texts)
	if err != nil {
		return err
	}
	return s.write(ctx, "save language of the cards", func(q *db.Queries) error {
		return q.PutCardLanguage(ctx, db.PutCardLanguageParams{Code: l.Code, Name: l.Name, Texts: string(text), At: column.At(at)})
	})
}

// UndoCardLanguage brings the texts back that the last file replaced.
func (s *Store) UndoCardLanguage(ctx context.Context, code string) error {
	return s.changeLanguage(ctx, "undo language of the cards", func(q *db.Queries) (int64, error) { return q.SwapCardLanguage(ctx, code) })
}

// RemoveCardLanguage takes a language away, or brings it back.
func (s *Store) RemoveCardLanguage(ctx context.Context, code string, removed bool) error {
	return s.changeLanguage(ctx, "remove language of the cards", func(q *db.Queries) (int64, error) {
		return q.RemoveCardLanguage(ctx, removed, code)
	})
}

func (s *Store) changeLanguage(ctx context.Context, what string, change func(*db.Queries) (int64, error)) error {
	return s.write(ctx, what, func(q *db.Queries) error {
		n, err := change(q)
		if err == nil && n == 0 {
			return fault.New(fault.NotFound, "There is no such language of the club's own.")
		}
		return err
	})
}
