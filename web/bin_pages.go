package web

import (
	"net/http"
	"slices"
	"strconv"
	"time"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/web/views"
)

// binWords name what lies in the bin, and what deleting it for good is called.
var binWords = map[night.BinKind]string{
	night.BinGear: "Gear", night.BinSite: "Site", night.BinNight: "Night", night.BinVolunteer: "Volunteer",
	night.BinTarget: "Target of the club's own", night.BinSatellite: "Satellite", night.BinLineUp: "Kept line-up",
}

// showBin lists what was taken away.
func (s *server) showBin(w http.ResponseWriter, r *http.Request) error {
	bin, err := s.store.Bin(r.Context())
	if err != nil {
		return err
	}
	var m views.BinModel
	for _, b := range bin {
		path := "/bin/" + string(b.Kind) + "/" + strconv.FormatInt(b.Ref, 10)
		row := views.BinRow{
			Name: b.Name, Kind: binWords[b.Kind], When: b.At.UTC().Format("2 January 2006") + by(b.Who),
			Left: daysLeft(b.Ends().Sub(s.now())), Held: b.Held, Barred: b.Barred, TakeBack: path + "/take-back",
		}
		if b.Held == "" {
			row.Discard, row.DiscardText = path+"/discard", "Delete now"
			if b.Kind == night.BinVolunteer {
				row.DiscardText = "Erase now"
			}
		}
		m.Rows = append(m.Rows, row)
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "Bin", Crumbs: []views.Link{{Text: "Settings", Href: "/club"}}}, views.Bin(m))
}

func by(who string) string {
	if who == "" {
		return ""
	}
	return ", by " + who
}

// daysLeft says when something is deleted; the daily run may be a day behind.
func daysLeft(left time.Duration) string {
	switch days := int((left + 24*time.Hour - 1) / (24 * time.Hour)); {
	case days <= 0:
		return "today"
	case days == 1:
		return "in 1 day"
	default:
		return "in " + strconv.Itoa(days) + " days"
	}
}

// binned finds what an address means.
func binnedParam(r *http.Request) (night.BinKind, int64, error) {
	kind := night.BinKind(chi.URLParam(r, "kind"))
	if !slices.Contains(night.BinKinds, kind) {
		return "", 0, fault.New(fault.NotFound, "Nothing of this kind lies in the bin.")
	}
	ref, err := idParam(r, "ref")
	return kind, ref, err
}

func (s *server) takeBack(w http.ResponseWriter, r *http.Request) error {
	kind, ref, err := binnedParam(r)
	if err != nil {
		return err
	}
	name, err := s.store.TakeBack(r.Context(), kind, ref)
	if err != nil {
		return err
	}
	return redirect(w, r, "/bin", views.Flash{Text: name + " is back in its place."})
}

// discard deletes for good what lay in the bin: that it lay there was the way
// back.
func (s *server) discard(w http.ResponseWriter, r *http.Request) error {
	kind, ref, err := binnedParam(r)
	if err != nil {
		return err
	}
	if err := s.store.Discard(r.Context(), kind, ref, sky.DateOf(s.now(), time.UTC).AddDays(-1)); err != nil {
		return err
	}
	words := "Deleted for good."
	if kind == night.BinVolunteer {
		words = "Erased. Past duties are those of “a volunteer” now."
	}
	return redirect(w, r, "/bin", views.Flash{Text: words})
}
