// Package web is the browser's side of Duskboard: routes, handlers, forms and
// view models. Pages are rendered on the server and work without JavaScript.
//
// What flows in: a [Store] (declared here, implemented elsewhere), a clock and
// a logger in [Config]. What flows out: one http.Handler from [New].
//
// One request: middleware (server.go) -> a handler, which parses, loads,
// computes, builds a view model and renders (kit_*.go, site_*.go, night_*.go)
// -> a component of web/views, rendered into a buffer -> the response. A
// handler returns an error and never writes an error page itself; [server.fail]
// turns the kind of the error into a status in one table.
//
// No rule of the domain lives here: what a telescope can do, which values are
// sensible and what a night needs is asked of the packages under internal.
package web
