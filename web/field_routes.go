package web

import (
	"context"
	"net/http"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/night"
	"duskboard/internal/weather"
)

// FieldStore keeps what a night needs in the field.
type FieldStore interface {
	SaveWeather(ctx context.Context, nightID int64, w weather.Series) error // the newest wins; an empty one clears
	// ReplaceWeather is a Conflict when what is there has another mark than seen.
	ReplaceWeather(ctx context.Context, nightID int64, seen string, w weather.Series) error
	SaveGoRules(ctx context.Context, g *night.GoRules) error
	AddDecision(ctx context.Context, nightID int64, d night.Decision) error
	SavePutOut(ctx context.Context, nightID int64, p night.PutOut) error
	SavePacking(ctx context.Context, nightID int64, p night.Packing) error
	ForgetPacking(ctx context.Context, nightID int64, item string, volunteerID int64) error
}

// fieldRoutes are the pages on weather, glass, the decision and departure, below
// one night.
func (s *server) fieldRoutes(r chi.Router) {
	r.Route("/weather", func(r chi.Router) {
		r.Get("/", s.page(s.showWeather))
		r.Post("/lines", s.page(s.saveLines))
		r.Post("/file", s.page(s.saveFile))
		r.Post("/fetch", s.page(s.fetchWeather))
		r.Post("/clear", s.page(s.clearWeather))
	})
	r.Route("/glass", func(r chi.Router) {
		r.Get("/", s.page(s.showGlass))
		r.Post("/{instrument}/put-out", s.page(s.savePutOut))
		r.Post("/{instrument}/measure", s.page(s.saveMeasured))
	})
	r.Route("/decision", func(r chi.Router) {
		r.Get("/", s.page(s.showDecision))
		r.Post("/", s.page(s.recordDecision))
		r.Post("/thresholds", s.page(s.updateRules))
	})
	r.Route("/departure", func(r chi.Router) {
		r.Get("/", s.page(s.showDeparture))
		r.Post("/packing", s.page(s.setPacking))
		r.Get("/{volunteer}", s.page(s.showPerson))
		r.Post("/{volunteer}/packing", s.page(s.sayPacking))
	})
}

// worker serves the script that keeps pages on a phone. It stands at the root
// because a worker only sees addresses below its own, and it must not be kept
// for ever, or an old one would rule.
func (s *server) worker(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	w.Header().Set("Cache-Control", "no-cache")
	_, _ = w.Write(s.assets.files["js/worker.js"]) // the visitor has gone: nothing left to answer
}
