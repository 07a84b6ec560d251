package night

import (
	"context"
	"time"
)

// Entry is one line of a night's history.
type Entry struct {
	ID     int64
	At     time.Time // UTC
	Who    string    // as [By] named them; empty when nobody was signed in
	What   string    // "propose line-up", "undo: move M 13"
	LineUp bool      // the line-up as it was after this change can be brought back
	Roster bool      // likewise the roster
}

type byKey struct{}

// By returns a context under which changes are noted in the history as made by
// who.
func By(ctx context.Context, who string) context.Context {
	return context.WithValue(ctx, byKey{}, who)
}

// Who returns the name that [By] put into the context, or "".
func Who(ctx context.Context) string {
	who, _ := ctx.Value(byKey{}).(string)
	return who
}
