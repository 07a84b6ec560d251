package web

import (
	"context"
	"io"
	"time"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/night"
	"duskboard/internal/sky"
)

// DataStore is what the club keeps as a whole: the bin, what comes in and goes
// out, and for how long.
type DataStore interface {
	Bin(ctx context.Context) ([]night.Binned, error)
	TakeBack(ctx context.Context, kind night.BinKind, ref int64) (name string, err error)
	Discard(ctx context.Context, kind night.BinKind, ref int64, today sky.Date) error

	// Import saves a batch, all of it or nothing; UndoImport takes it back.
	Import(ctx context.Context, what string, x night.Batch) (id int64, err error)
	UndoImport(ctx context.Context, id int64) (what string, err error)
	Imports(ctx context.Context) ([]night.ImportEntry, error)

	Keeping(ctx context.Context) (night.Keeping, error)
	SaveKeeping(ctx context.Context, k *night.Keeping) error
	Consents(ctx context.Context, volunteerID int64) ([]night.Consent, error)
	ClubHistory(ctx context.Context, most int) ([]night.ClubEntry, error)
	NoteClub(ctx context.Context, what string) error

	Rows(ctx context.Context) (int64, error)
	Whole(ctx context.Context, w io.Writer, now time.Time, size func(bytes int64), progress func(done, all int64)) error
	Person(ctx context.Context, w io.Writer, volunteerID int64) error
}

// dataRoutes are the pages about the club's data as a whole.
func (s *server) dataRoutes(r chi.Router) {
	for _, t := range []tableImport{s.kitTable(), s.targetTable(), s.siteTable(), s.nightTable()} {
		t.mount(r)
	}
	r.Get("/crew/export.csv", s.page(s.exportCrew))
	r.Post("/imports/{import}/undo", s.page(s.undoImport))

	r.Get("/club/data", s.page(s.showData))
	r.Get("/club/data/everything.json", s.page(s.sendEverything))
	r.Post("/club/data/keeping", s.page(s.saveKeeping))

	r.Get("/bin", s.page(s.showBin))
	r.Post("/bin/{kind}/{ref}/take-back", s.page(s.takeBack))
	r.Post("/bin/{kind}/{ref}/discard", s.page(s.discard))

	r.Get("/privacy", s.page(s.showPrivacy))
	r.Get("/crew/{id}/data.json", s.page(s.sendPerson))
	r.Get("/c/{token}/data.json", s.page(s.sendOwnData))
	r.Post("/c/{token}/consent", s.page(s.saveConsent))
}
