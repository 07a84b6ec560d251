package views

import "context"

// A MayFunc reports whether whoever a page is made for may send a request: the
// method, and the address with or without a query.
type MayFunc func(method, address string) bool

type mayKey struct{}

// WithMay says for whom a page is rendered. The web package gives a function
// that reads the one table of rights.
func WithMay(ctx context.Context, f MayFunc) context.Context {
	return context.WithValue(ctx, mayKey{}, f)
}

// May reports whether a link or form would be answered or refused, so that a
// page offers only what it keeps: "GET" for a link, "POST" for a form's action.
// Without accounts everything may be done. Addresses of another site, of a mail
// or of a place on the same page are always allowed.
func May(ctx context.Context, method, address string) bool {
	f, ok := ctx.Value(mayKey{}).(MayFunc)
	return !ok || f(method, address)
}

// mayOpen is May for a link.
func mayOpen(ctx context.Context, href string) bool { return May(ctx, "GET", href) }

// maySend is May for a form's action.
func maySend(ctx context.Context, action string) bool { return May(ctx, "POST", action) }
