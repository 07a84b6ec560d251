package web

import "github.com/go-chi/chi/v5"

// rosterRoutes are who does what on one night, below /nights/{night}.
func (s *server) rosterRoutes(r chi.Router) {
	r.Get("/answers", s.page(s.showAnswers))
	r.Post("/answers/remind", s.page(s.writeReminders))
	r.Get("/attendance", s.page(s.showAttendance))
	r.Post("/attendance", s.page(s.saveAttendance))
	r.Route("/roster", func(r chi.Router) {
		r.Get("/", s.page(s.showRoster))
		r.Get("/call-list", s.page(s.showCalls))
		r.Post("/propose", s.page(s.proposeRoster))
		r.Post("/clear", s.page(s.clearRoster))
		r.Post("/restore", s.page(s.restoreRoster))
		r.Post("/undo", s.rosterPage(s.undoRoster))
		r.Post("/redo", s.rosterPage(s.redoRoster))
		r.Get("/new", s.page(s.newDuty))
		r.Post("/check", s.page(s.checkDuty))
		r.Post("/duties", s.page(s.saveDuty))
		r.Get("/duties/{duty}", s.page(s.showDuty))
		r.Post("/duties/{duty}/move", s.rosterPage(s.moveDuty))
		r.Post("/duties/{duty}/swap", s.rosterPage(s.swapDuties))
		r.Post("/duties/{duty}/pin", s.rosterPage(s.pinDuty))
		r.Post("/duties/{duty}/remove", s.rosterPage(s.removeDuty))
		r.Post("/duties/{duty}/take", s.page(s.takeDuty))
		r.Get("/people/{person}", s.page(s.showCrewNight))
		r.Post("/people/{person}/drop", s.page(s.dropPerson))
		r.Post("/people/{person}/cover", s.page(s.coverDuty))
	})
}

// crewRoutes are what the club keeps of its crew besides each volunteer, below
// /crew.
func (s *server) crewRoutes(r chi.Router) {
	r.Get("/rules", s.page(s.showCrewRules))
	r.Post("/rules", s.page(s.saveCrewRules))
	r.Get("/hours", s.page(s.showHours))
	r.Get("/hours.csv", s.page(s.exportHours))
	r.Get("/import", s.page(s.showImport))
	r.Post("/import", s.page(s.importCrew))
	r.Get("/import/example.csv", s.page(s.exampleImport))
	r.Get("/{id}/link", s.page(s.showLinksOf))
	r.Post("/{id}/link", s.page(s.makeLink))
	r.Post("/{id}/link/revoke", s.page(s.revokeLinks))
	r.Post("/{id}/forget", s.page(s.forgetVolunteer))
}

// linkRoutes are a volunteer's own pages: whoever has the address has the right.
func (s *server) linkRoutes(r chi.Router) {
	r.Get("/c/{token}", s.page(s.showLink))
	r.Get("/c/{token}/calendar.ics", s.page(s.showCalendar))
	r.Post("/c/{token}/nights/{night}", s.page(s.answerLink))
	r.Post("/c/{token}/nights/{night}/packing", s.page(s.packLink))
	r.Get("/c/{token}/nights/{night}/cards", s.page(s.showOwnCards))
	r.Get("/n/{night}/crew/{token}.ics", s.page(s.showNightCalendar))
}
