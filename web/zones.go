package web

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"
	"time"

	"github.com/ringsaturn/tzf"
	tzfrellite "github.com/ringsaturn/tzf-rel-lite"
	pb "github.com/ringsaturn/tzf/gen/go/tzf/v1"
	"google.golang.org/protobuf/proto"
)

// zoneList holds the names of the tz database's zone.tab, made by
//
//	grep -v '^#' /usr/share/zoneinfo/zone.tab | cut -f3 | sort
//
// (tz database, public domain). It only fills the list of a form: any zone
// that the program can load is accepted.
//
//go:embed zones.txt
var zoneList string

// zoneNames returns the zones that a form offers.
func zoneNames() []string { return strings.Fields(zoneList) }

// checkZone reports whether name is a time zone of the tz database. "" and
// "Local", which Go would take, are no zones of a place.
func checkZone(name string) error {
	if name == "" || name == "Local" {
		return fmt.Errorf("choose a zone from the list")
	}
	if _, err := time.LoadLocation(name); err != nil {
		return fmt.Errorf("no zone has this name: choose from the list, as Europe/Dublin")
	}
	return nil
}

// zoneFinder guesses the zone of a place from the boundaries in tzf-rel-lite.
// Its data are large, so nothing is loaded before the first question.
//
// Two finders share the work. The tile index loads in 0.16 s and holds 8 MB; on
// a grid of 17,955 places it knew the answer for 91 % and differed from the
// polygons at one. Where a border runs through a tile it knows nothing; only
// then the polygons are asked, which take 0.8 s to load and hold 23 MB more.
type zoneFinder struct {
	tiles    func() (tzf.F, error)
	polygons func() (tzf.F, error)
}

func newZoneFinder() *zoneFinder {
	return &zoneFinder{
		tiles: sync.OnceValues(func() (tzf.F, error) {
			var in pb.PreindexTimezones
			if err := proto.Unmarshal(tzfrellite.PreindexData, &in); err != nil {
				return nil, err
			}
			return tzf.NewFuzzyFinderFromPB(&in)
		}),
		polygons: sync.OnceValues(func() (tzf.F, error) {
			var in pb.CompressedTimezones
			if err := proto.Unmarshal(tzfrellite.LiteCompressData, &in); err != nil {
				return nil, err
			}
			return tzf.NewFinderFromCompressed(&in, tzf.SetDropPBTZ)
		}),
	}
}

// warm loads the data in the background, while somebody fills in a form.
func (z *zoneFinder) warm() {
	go func() {
		_, _ = z.tiles() // an error comes back to whoever asks
		_, _ = z.polygons()
	}()
}

// guess returns the zone at latitude and longitude in degrees, north and east
// positive, or "" when it cannot tell. On the open sea it is an Etc zone.
func (z *zoneFinder) guess(lat, lon float64) string {
	for _, load := range []func() (tzf.F, error){z.tiles, z.polygons} {
		f, err := load()
		if err != nil {
			return "" // only a guess: the form asks instead
		}
		if name := f.GetTimezoneName(lon, lat); name != "" && checkZone(name) == nil {
			return name
		}
	}
	return ""
}
