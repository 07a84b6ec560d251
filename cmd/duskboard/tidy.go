package main

import (
	"context"
	"log/slog"
	"time"

	"duskboard/internal/store"
)

// tidyEach deletes what has lain in the bin for its time and clears what the
// club does not keep any longer: now, and at each tick until ctx ends. What
// fails is told in the log and tried again. The log has numbers only: names
// have no place there.
func tidyEach(ctx context.Context, st *store.Store, now func() time.Time, tick <-chan time.Time, logger *slog.Logger) {
	for {
		did, err := st.Tidy(ctx, now())
		switch {
		case ctx.Err() != nil:
			return
		case err != nil:
			logger.Error("the bin was not emptied", "err", err)
		case len(did.Deleted)+did.Answers+did.History+did.Contacts > 0:
			logger.Info("tidied", "deleted", len(did.Deleted), "answers_of_nights", did.Answers, "histories_of_nights", did.History, "contacts", did.Contacts)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick:
		}
	}
}
