package store

import (
	"context"
	"fmt"
	"time"

	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
)

// Keeping returns how long the club keeps what is known about people.
func (s *Store) Keeping(ctx context.Context) (k night.Keeping, err error) {
	err = s.read(ctx, "load keeping", func(q *db.Queries) error {
		r, err := q.GetKeeping(ctx)
		k = night.Keeping{Version: r.Version, Answers: int(r.AnswersMonths), History: int(r.HistoryMonths), Contacts: int(r.ContactsMonths)}
		return err
	})
	return k, err
}

// SaveKeeping changes it; what is over by the new times goes with the next
// [Store.Tidy].
func (s *Store) SaveKeeping(ctx context.Context, k *night.Keeping) error {
	err := s.write(ctx, "save keeping", func(q *db.Queries) error {
		n, err := q.UpdateKeeping(ctx, db.UpdateKeepingParams{
			Version: k.Version, AnswersMonths: int64(k.Answers), HistoryMonths: int64(k.History), ContactsMonths: int64(k.Contacts),
		})
		if err != nil {
			return err
		}
		if n == 0 {
			return changed("page of times")
		}
		return q.InsertClubLog(ctx, night.Who(ctx), fmt.Sprintf("keep answers %s, histories %s, unused contact data %s", months(k.Answers), months(k.History), months(k.Contacts)))
	})
	if err == nil {
		k.Version++
	}
	return err
}

func months(n int) string {
	switch n {
	case 0:
		return "for ever"
	case 1:
		return "for 1 month"
	}
	return fmt.Sprintf("for %d months", n)
}

// Tidied is what one run of Tidy did.
type Tidied struct {
	Deleted  []night.Binned // out of the bin
	Answers  int            // nights whose answers were cleared
	History  int            // nights whose history was cleared
	Contacts int            // volunteers whose contact data were cleared
}

// Tidy deletes what has lain in the bin for its time at now, and clears what
// the club does not want to keep any longer. What it clears it notes in the
// history of the night or of the club.
func (s *Store) Tidy(ctx context.Context, now time.Time) (t Tidied, err error) {
	ctx = night.By(ctx, night.Keeper)
	k, err := s.Keeping(ctx)
	if err != nil {
		return t, err
	}
	if t.Answers, err = s.clearNights(ctx, k.Answers, now, (*db.Queries).ListNightsBefore, clearAnswers); err != nil {
		return t, err
	}
	if t.History, err = s.clearNights(ctx, k.History, now, (*db.Queries).ListNightsWithHistoryBefore, clearHistory); err != nil {
		return t, err
	}
	if t.Contacts, err = s.clearContacts(ctx, k.Contacts, now); err != nil {
		return t, err
	}
	if t.Deleted, err = s.PurgeBin(ctx, now); err != nil {
		return t, err
	}
	err = s.write(ctx, "clear old imports", func(q *db.Queries) error {
		if k.History > 0 {
			if err := q.DeleteClubLogBefore(ctx, column.At(now.AddDate(0, -k.History, 0))); err != nil {
				return err
			}
		}
		return q.DeleteImportsBefore(ctx, column.At(now.Add(-night.BinKept)))
	})
	if err != nil {
		return t, err
	}
	return t, s.wipe(ctx)
}

// before is the date before which a time is over; false when it never is.
func before(months int, now time.Time) (column.Date, bool) {
	return column.Date{Date: sky.DateOf(now.AddDate(0, -months, 0), time.UTC)}, months > 0
}

// clearNights clears each night that is over, each in a transaction of its own.
func (s *Store) clearNights(ctx context.Context, months int, now time.Time,
	list func(*db.Queries, context.Context, column.Date) ([]int64, error), clear func(context.Context, *db.Queries, int64, int) error) (n int, err error) {
	date, ends := before(months, now)
	if !ends {
		return 0, nil
	}
	var ids []int64
	err = s.read(ctx, "find nights to clear", func(q *db.Queries) (err error) {
		ids, err = list(q, ctx, date)
		return err
	})
	if err != nil {
		return 0, err
	}
	for _, id := range ids {
		if err := s.write(ctx, "clear a night", func(q *db.Queries) error { return clear(ctx, q, id, months) }); err != nil {
			return n, err
		}
		n++
	}
	return n, nil
}

func clearAnswers(ctx context.Context, q *db.Queries, id int64, months int) error {
	for _, clear := range []func(context.Context, int64) error{q.ClearAnswersOfNight, q.ClearLiftsOfNight, q.ClearPackingOfNight, q.TouchNight} {
		if err := clear(ctx, id); err != nil {
			return err
		}
	}
	return note(ctx, q, id, fmt.Sprintf("clear the crew's answers, %d months after the night", months))
}

func clearHistory(ctx context.Context, q *db.Queries, id int64, months int) error {
	for _, clear := range []func(context.Context, int64) error{q.DeleteHistoryOfNight, q.BlankHistoryOfNight, q.BlankDecisionsOfNight, q.BlankKeptOfNight} {
		if err := clear(ctx, id); err != nil {
			return err
		}
	}
	return note(ctx, q, id, fmt.Sprintf("clear the history, %d months after the night", months))
}

func (s *Store) clearContacts(ctx context.Context, months int, now time.Time) (n int, err error) {
	date, ends := before(months, now)
	if !ends {
		return 0, nil
	}
	err = s.write(ctx, "clear contact data", func(q *db.Queries) error {
		ids, err := q.ListIdleContacts(ctx, date)
		if err != nil || len(ids) == 0 {
			return err
		}
		for _, id := range ids {
			if err := q.ClearContacts(ctx, id); err != nil {
				return err
			}
		}
		n = len(ids)
		return q.InsertClubLog(ctx, night.Who(ctx), fmt.Sprintf("clear contact data of %d who took no part for %d months", n, months))
	})
	return n, err
}

// Consents returns when a volunteer agreed that the crew may see their contact
// data, oldest first.
func (s *Store) Consents(ctx context.Context, volunteerID int64) (cs []night.Consent, err error) {
	err = s.read(ctx, "load consents", func(q *db.Queries) error {
		rows, err := q.ListConsents(ctx, volunteerID)
		cs, err = each(rows, err, func(r db.Consent) night.Consent {
			return night.Consent{At: r.At.Time, Who: r.Who, Agreed: r.Agreed}
		})
		return err
	})
	return cs, err
}

// agree records consent when what a save says differs from what is there.
func agree(ctx context.Context, q *db.Queries, id int64, before, now bool) error {
	if before == now {
		return nil
	}
	return q.InsertConsent(ctx, db.InsertConsentParams{VolunteerID: id, Who: night.Who(ctx), Agreed: now})
}

// ClubHistory returns what was done to the club as a whole, newest first.
func (s *Store) ClubHistory(ctx context.Context, most int) (es []night.ClubEntry, err error) {
	err = s.read(ctx, "load club history", func(q *db.Queries) error {
		rows, err := q.ListClubLog(ctx, int64(most))
		es, err = each(rows, err, func(r db.ClubLog) night.ClubEntry {
			return night.ClubEntry{At: r.At.Time, Who: r.Who, What: r.What}
		})
		return err
	})
	return es, err
}

// NoteClub writes a line into the history of the club.
func (s *Store) NoteClub(ctx context.Context, what string) error {
	return s.write(ctx, "note in the club's history", func(q *db.Queries) error {
		return q.InsertClubLog(ctx, night.Who(ctx), what)
	})
}
