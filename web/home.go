package web

import (
	"net/http"
	"strconv"
	"time"

	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// showHome is the first page: the guided start of an empty club, the three
// things to try in the demo, else the next night.
func (s *server) showHome(w http.ResponseWriter, r *http.Request) error {
	ctx := r.Context()
	nights, err := s.store.Nights(ctx)
	if err != nil {
		return err
	}
	next, found := nextNight(nights, s.now())
	if found && !s.demo {
		http.Redirect(w, r, nightPath(next.ID), http.StatusSeeOther)
		return nil
	}
	sites, err := s.store.Sites(ctx)
	if err != nil {
		return err
	}
	gear, err := s.store.Kit(ctx, false)
	if err != nil {
		return err
	}
	m := startModel(sites, gear, nights)
	if s.demo && found {
		m = demoModel(next)
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Duskboard"}, views.Home(m))
}

// nextNight returns the night whose public hours end soonest after now. The
// nights come by date, but two may share a date.
func nextNight(nights []night.Night, now time.Time) (night.Night, bool) {
	var next night.Night
	found := false
	for _, n := range nights {
		if n.Retired || n.PublicTo().Before(now) {
			continue
		}
		if !found || n.PublicFrom.Before(next.PublicFrom) {
			next, found = n, true
		}
	}
	return next, found
}

// startModel is the guided start: three steps, done ones marked, the first open
// one with the button.
func startModel(sites []night.Site, gear kit.Kit, nights []night.Night) views.HomeModel {
	steps := []views.Todo{
		{Text: "Say where you observe", Why: "Coordinates, trees and houses around, how dark it is.", Action: "Add a site", Href: "/sites/new", Done: len(liveSites(sites)) > 0},
		{Text: "Add the kit", Why: "Four answers an instrument are enough to begin; then the eyepieces that go into it.", Action: "Add an instrument", Href: "/kit/instruments/new", Done: len(gear.Instruments) > 0},
		{Text: "Plan a night", Why: "Date, hours and expected guests. The line-up and the cards follow from it.", Action: "Plan a night", Href: "/nights/new", Done: len(nights) > 0},
	}
	markFirstOpen(steps)
	return views.HomeModel{
		Over: "A programme for the night sky", Title: "Plan a public night",
		Lead: "Every guest sees something worth the wait, in an instrument that can show it, with somebody beside it who knows how.",
		Bill: bill, StepsTitle: "Three steps to the first night", Steps: steps,
	}
}

// demoModel is the first page of the demo: three things that show the job.
func demoModel(next night.Night) views.HomeModel {
	path := nightPath(next.ID)
	return views.HomeModel{
		Over: "An invented club with its next night", Title: "Hold printed cards in five minutes",
		Lead: "Everything here is made up and forgotten when the program stops: change what you like.",
		Bill: bill, StepsTitle: "Three things to do", Steps: []views.Todo{
			{Text: "See the line-up of " + next.Name, Why: "What each instrument shows, when, with which eyepiece, and why not something else.", Action: "Open the night", Href: path, Main: true},
			{Text: "Add your own telescope", Why: "Four answers: design, aperture, focal length, mount.", Action: "Add an instrument", Href: "/kit/instruments/new"},
			{Text: "Choose gear and targets, propose, print the cards", Why: "One sheet an instrument, to read by a red torch.", Action: "Choose", Href: path + "/choose"},
		},
	}
}

// bill is what the program gives, in the order in which an evening needs it.
var bill = []views.Row{
	{Label: "What is up", Value: "for your site and hours"},
	{Label: "What fits", Value: "each eyepiece, with reasons"},
	{Label: "When", Value: "a line-up, hour by hour"},
	{Label: "What to print", Value: "one card an instrument"},
}

// markFirstOpen makes the action of the first step that is not done the main
// one, and takes the action from those that are done.
func markFirstOpen(steps []views.Todo) {
	open := true
	for i := range steps {
		switch {
		case steps[i].Done:
			steps[i].Action = ""
		case open:
			steps[i].Main, open = true, false
		}
	}
}

// nightPath is the address of a night's first page.
func nightPath(id int64) string { return "/nights/" + strconv.FormatInt(id, 10) }

// liveSites leaves out retired sites.
func liveSites(all []night.Site) []night.Site {
	live := make([]night.Site, 0, len(all))
	for _, s := range all {
		if !s.Retired {
			live = append(live, s)
		}
	}
	return live
}
