package web

import (
	"errors"
	"log/slog"
	"net/http"
	"net/netip"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"

	"duskboard/internal/fault"
	"duskboard/internal/kit"
	"duskboard/internal/weather"
	"duskboard/web/guide"
	"duskboard/web/views"
)

// Config is what the server needs from outside. Store and Clock are required.
type Config struct {
	Store   Store
	Clock   func() time.Time // the only source of "now" in this package
	Logger  *slog.Logger     // nil discards
	Demo    bool             // an invented club: pages say so
	Version string           // shown at the foot of each page; may be empty
	// Forecast is the service that is asked for weather when somebody presses
	// the button; nil offers none.
	Forecast weather.Provider
	// Accounts turns sign-in on; nil lets everybody do everything.
	Accounts *Accounts
	// Proxies are the networks of reverse proxies whose word about the client
	// counts (X-Forwarded-For, X-Forwarded-Proto).
	Proxies []netip.Prefix
	// Origin is the address under which browsers reach the site, as
	// "https://stars.example", for links that leave it and for passkeys; "" takes
	// it from each request.
	Origin string
}

// server holds what handlers share. Handlers are methods on it, in the file of
// their screen.
type server struct {
	store     Store
	now       func() time.Time
	log       *slog.Logger
	demo      bool
	version   string
	forecast  weather.Provider
	assets    assets
	sheets    sheets
	weighings *weighings
	zones     *zoneFinder
	guard     *guard // nil without accounts
	proxies   []netip.Prefix
	stated    string                // the site's address as stated; "" takes each request's
	cardWords map[string]*cardWords // words of the printed papers, by language
	book      *guide.Book           // the user's guide
	// lastResort is sent when even the error page cannot be rendered, by theme.
	lastResort map[string][]byte
}

// New returns the handler of the whole site, or an error when the
// configuration is incomplete or a fixed page cannot be rendered.
func New(cfg Config) (http.Handler, error) {
	if cfg.Store == nil || cfg.Clock == nil {
		return nil, errors.New("web: Store and Clock are required")
	}
	if cfg.Logger == nil {
		cfg.Logger = slog.New(slog.DiscardHandler)
	}
	a, err := bundle()
	if err != nil {
		return nil, err
	}
	s := &server{
		store: cfg.Store, now: cfg.Clock, log: cfg.Logger, demo: cfg.Demo,
		version: cfg.Version, forecast: cfg.Forecast, assets: a, zones: newZoneFinder(), weighings: newWeighings(), proxies: cfg.Proxies, stated: strings.TrimSuffix(cfg.Origin, "/"),
	}
	if cfg.Accounts != nil {
		s.guard = s.newGuard(*cfg.Accounts)
	}
	if s.cardWords, err = cardLanguages(); err != nil {
		return nil, err
	}
	if s.book, err = guide.Open(); err != nil {
		return nil, err
	}
	if s.lastResort, err = s.renderLastResort(); err != nil {
		return nil, err
	}
	return s.routes(), nil
}

// routes is the whole site, top to bottom: first what each request passes
// through, then one block for each resource.
func (s *server) routes() http.Handler {
	r := chi.NewRouter()

	r.Use(requestID) // first: everything after it may log the id
	r.Use(client(s.proxies))
	r.Use(s.logRequests)   // outside the recoverer, so that a panic is logged as a 500
	r.Use(s.recoverPanics) // outside all that may panic
	r.Use(secureHeaders)   // before anything answers, so that error pages have them too
	r.Use(soundHost)       // before anything trusts it
	r.Use(deadline(10 * time.Second))
	r.Use(limitBody(maxBody)) // before anything reads the body
	r.Use(s.offer(r))         // before the first page that may be answered
	r.Use(s.sameOrigin)       // before any handler changes something
	r.Use(s.authorise(r))     // the one place that knows who may do what
	r.Use(s.soundForm)        // before any handler reads a form
	r.Use((&keptAnswers{store: s.store, now: s.now}).serve)
	r.Use(middleware.Compress(5, "text/html", "text/css", "text/javascript", "image/svg+xml", "application/json"))
	r.Use(middleware.GetHead) // last: it rewrites how the routes below are matched

	r.NotFound(s.page(func(http.ResponseWriter, *http.Request) error {
		return fault.New(fault.NotFound, "There is no page at this address.")
	}))
	r.MethodNotAllowed(s.page(func(http.ResponseWriter, *http.Request) error {
		return errMethod
	}))

	// Shell
	r.Get("/", s.page(s.showHome))
	r.Get("/healthz", s.page(s.showHealth))
	r.Get("/style", s.page(s.showStyle))
	r.Post("/theme", s.page(s.switchTheme))
	r.Get("/static/*", s.assets.serve)
	r.Get("/favicon.ico", s.assets.favicon)
	r.Get("/worker.js", s.worker)

	if s.guard != nil {
		s.accountRoutes(r)
	}

	// The club's data as a whole: tables in and out, the bin, privacy
	s.dataRoutes(r)

	// Kit: the list, then the same pages for each kind of gear
	r.Route("/kit", func(r chi.Router) {
		r.Get("/", s.page(s.showKit))
		r.Get("/instruments/{id}/sheet", s.page(s.showInstrumentSheet))
		r.Get("/compare", s.page(s.showCompare))
		r.Get("/buy", s.page(s.showKitBuy))
		gearPages[kit.Instrument]{s, instrumentGear(s.store)}.mount(r)
		gearPages[kit.Eyepiece]{s, eyepieceGear(s.store)}.mount(r)
		gearPages[kit.Amplifier]{s, amplifierGear(s.store)}.mount(r)
		gearPages[kit.Diagonal]{s, diagonalGear(s.store)}.mount(r)
		gearPages[kit.Filter]{s, filterGear(s.store)}.mount(r)
		gearPages[kit.Finder]{s, finderGear(s.store)}.mount(r)
		gearPages[kit.DewGear]{s, dewGear(s.store)}.mount(r)
		gearPages[kit.Battery]{s, batteryGear(s.store)}.mount(r)
		gearPages[kit.Steps]{s, stepsGear(s.store)}.mount(r)
	})

	// Nights: the list, a new one, and what a night consists of
	r.Get("/nights", s.page(s.showNights))
	r.Get("/nights/new", s.page(s.showNewNight))
	r.Get(nightImportPath, s.page(s.showNightImport))
	r.Post(nightImportPath, s.page(s.takeNightImport))
	r.Get(nightImportPath+"/schema.json", s.page(s.sendNightSchema))
	r.Get("/nights/{night}/night.json", s.page(s.sendNightFile))
	r.Post("/nights", s.page(s.createNight))
	r.Post("/nights/sky", s.page(s.showNightSky))
	r.Get("/nights/{night}/edit", s.page(s.editNight))
	r.Post("/nights/{night}/edit", s.page(s.updateNight))
	r.Post("/nights/{night}/retire", s.page(s.retireNight))
	r.Post("/nights/{night}/restore", s.page(s.restoreNight))
	r.Get("/nights/{night}/choose", s.page(s.showChoose))
	r.Post("/nights/{night}/choose", s.page(s.saveChoose))
	r.Get("/nights/{night}/targets", s.page(s.findTargets))

	// One night, computed: its first page, the line-up, fits and cards
	r.Route("/nights/{night}", func(r chi.Router) {
		r.Get("/", s.page(s.showNight))
		r.Get("/sky", s.page(s.showSky))
		r.Get("/fits", s.page(s.showFits))
		r.Get("/history", s.page(s.showHistory))
		r.Post("/history/{entry}/line-up", s.page(s.bringBackLineUp))
		r.Post("/history/{entry}/roster", s.page(s.bringBackRoster))
		r.Get("/why", s.page(s.showWhy))
		r.Get("/buy", s.page(s.showBuy))
		r.Post("/buy", s.page(s.weighBuy))
		r.Get("/cards", s.page(s.showCards))
		s.rosterRoutes(r)
		s.fieldRoutes(r)
		s.planRoutes(r)
		r.Get("/placards", s.page(s.showPlacards))
		r.Get("/guest-sheet", s.page(s.showGuestSheet))
		r.Get("/print", s.page(s.showPrint))
		r.Post("/papers", s.page(s.choosePapers))
		r.Get("/programme", s.page(s.previewProgramme))
		r.Post("/programme/publish", s.page(s.publishProgramme))
		r.Post("/programme/withdraw", s.page(s.withdrawProgramme))
		r.Route("/line-up", func(r chi.Router) {
			r.Get("/", s.page(s.showLineUp))
			r.Post("/propose", s.boardPage(s.proposeLineUp))
			r.Post("/clear", s.boardPage(s.clearLineUp))
			r.Post("/undo", s.boardPage(s.undoLineUp))
			r.Post("/redo", s.boardPage(s.redoLineUp))
			r.Post("/allow", s.boardPage(s.allowPair))
			r.Get("/new", s.page(s.newShowing))
			r.Get("/versions", s.page(s.showVersions))
			r.Post("/versions", s.boardPage(s.keepVersion))
			r.Get("/versions/{kept}", s.page(s.showVersion))
			r.Post("/versions/{kept}/restore", s.boardPage(s.restoreVersion))
			r.Post("/versions/{kept}/forget", s.boardPage(s.forgetVersion))
			r.Get("/replan", s.page(s.showReplan))
			r.Post("/replan", s.boardPage(s.takeReplan))
			r.Post("/showings", s.boardPage(s.saveShowing))
			r.Get("/showings/{showing}", s.boardPage(s.showShowing))
			r.Post("/showings/{showing}/place", s.boardPage(s.placeShowing))
			r.Post("/showings/{showing}/swap", s.boardPage(s.swapShowings))
			r.Post("/showings/{showing}/pin", s.boardPage(s.pinShowing))
			r.Post("/showings/{showing}/remove", s.boardPage(s.removeShowing))
			r.Post("/showings/{showing}/forbid", s.boardPage(s.forbidShowing))
		})
	})

	// Crew
	r.Route("/crew", func(r chi.Router) {
		r.Get("/", s.page(s.showCrew))
		r.Get("/new", s.page(s.showNewVolunteer))
		r.Post("/", s.page(s.createVolunteer))
		s.crewRoutes(r)
		r.Get("/{id}", s.page(s.showVolunteer))
		r.Post("/{id}", s.page(s.updateVolunteer))
		r.Post("/{id}/retire", s.page(s.retireVolunteer))
		r.Post("/{id}/restore", s.page(s.restoreVolunteer))
	})

	s.linkRoutes(r)

	// What guests see
	r.Get("/n/{night}", s.page(s.showProgramme))
	r.Get("/n/{night}/programme.json", s.page(s.showProgrammeJSON))

	// Club
	r.Get("/club", s.page(s.showClub))
	r.Post("/club", s.page(s.updateClub))
	r.Get("/about", s.page(s.showAbout))

	s.guideRoutes(r)

	// Targets: the catalogue and what the club adds to it
	r.Get("/targets", s.page(s.showTargets))
	r.Post("/targets", s.page(s.addTarget))
	r.Post("/targets/{target}/remove", s.page(s.removeTarget))
	r.Post("/targets/satellites", s.page(s.addSatellite))
	r.Post("/targets/satellites/{satellite}/remove", s.page(s.removeSatellite))

	// What the cards say
	r.Route("/words", s.wordsRoutes)

	// Sites
	r.Route("/sites", func(r chi.Router) {
		r.Get("/", s.page(s.showSites))
		r.Get("/new", s.page(s.showNewSite))
		r.Post("/", s.page(s.createSite))
		r.Post("/zone", s.page(s.showZone))
		r.Post("/horizon", s.page(s.showHorizon))
		s.groundRoutes(r)
		r.Get("/{id}", s.page(s.showSite))
		r.Post("/{id}", s.page(s.updateSite))
		r.Post("/{id}/retire", s.page(s.retireSite))
		r.Post("/{id}/restore", s.page(s.restoreSite))
	})

	return r
}

// section names of the masthead, given in views.Head.
const (
	inNights  = "nights"
	inKit     = "kit"
	inCrew    = "crew"
	inSites   = "sites"
	inTargets = "targets"
)

// showHealth answers whether the store can be read.
func (s *server) showHealth(w http.ResponseWriter, r *http.Request) error {
	if _, err := s.store.Club(r.Context()); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	_, err := w.Write([]byte("ok\n"))
	return err
}

// showStyle shows every component in every state.
func (s *server) showStyle(w http.ResponseWriter, r *http.Request) error {
	return s.show(w, r, http.StatusOK, views.Head{Title: "Style"}, views.Style())
}
