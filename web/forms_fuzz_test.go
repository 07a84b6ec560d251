package web_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"duskboard/internal/account"
	"duskboard/internal/store"
	"duskboard/web"
)

// slowForms compute a plan or take away what later inputs need; their own
// fields are few and are tried by the tests of their pages.
var slowForms = regexp.MustCompile(`/(propose|replan|buy|fetch|retire|remove|forget|clear|undo|redo|restore|revoke|cover|drop)$|^/(sign-|setup|account|people|c/|bin)`)

// FuzzForms sends any body to any form of the site: the answer is a page or a
// refusal with words, never an internal error or markup that was typed. The
// corpus in testdata/fuzz has a body for each form and what some parser once
// trips over: NaN, 1e309, decimal commas, the years 0 and 9999, latitude 90,
// names from right to left and of 200 letters, deep JSON.
func FuzzForms(f *testing.F) {
	st, err := store.Open(context.Background(), filepath.Join(f.TempDir(), "club.db"))
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { st.Close() })
	fill(visitWith(f, st, st))
	h, err := web.New(web.Config{Store: st, Clock: func() time.Time { return now }})
	if err != nil {
		f.Fatal(err)
	}
	var forms []string
	for _, pattern := range web.RoutesOf(f, http.MethodPost, account.Coordinator) {
		if !slowForms.MatchString(pattern) {
			forms = append(forms, pattern)
		}
	}
	at := func(path string) uint8 {
		for i, p := range forms {
			if p == path {
				return uint8(i)
			}
		}
		f.Fatalf("no form %s", path)
		return 0
	}
	turn := 0
	for path, body := range formSeeds {
		f.Add(at(path), body)
		values, err := url.ParseQuery(body)
		if err != nil {
			f.Fatal(err)
		}
		for name := range values {
			for range 2 { // in turn, so that an ordinary test run stays short
				one, _ := url.ParseQuery(body)
				one.Set(name, awkward[turn%len(awkward)])
				f.Add(at(path), one.Encode())
				turn++
			}
		}
	}
	f.Fuzz(func(t *testing.T, which uint8, body string) {
		if len(body) > 1<<16 {
			t.Skip() // TestLargeBodies is about size
		}
		path := seeds(forms[int(which)%len(forms)])
		r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(body))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code >= 500 {
			t.Fatalf("POST %s with %q: status %d\n%.500s", path, body, w.Code, w.Body)
		}
		if strings.Contains(w.Body.String(), "<xss") {
			t.Fatalf("POST %s with %q: what was typed comes out as markup", path, body)
		}
	})
}

// awkward are values that some parser trips over.
var awkward = []string{"NaN", "1e309", "-1,5", "0000-01-01", "9999-12-31", "90", "\u202egnirts", strings.Repeat("ن", 200), strings.Repeat("[", 3000)}

// formSeeds is one sound body for each form with parsers of its own.
var formSeeds = map[string]string{
	"/sites":                            "Name=Heron+Meadow&Lat=52.5163+N&Lon=13.3777+E&Elev=40&Step=4&Horizon=E+20%0AS+5&Measured=20,5",
	"/sites/{id}":                       "Version=1&Name=<xss>&Lat=-90&Lon=180&Elev=0&Step=4&Zone=UTC",
	"/sites/zone":                       "Lat=52&Lon=13",
	"/sites/horizon":                    "Horizon=N+5%0AE+20..30%0A180+10",
	"/nights":                           "Date=2026-09-19&Site=1&From=20:00&To=22:30&Guests=80&Audience=families&Block=15&Seeing=2,5",
	"/nights/{night}/edit":              "Version=1&Date=2026-10-25&Site=1&From=20:00&To=02:30&Guests=80&Audience=adults&Block=10",
	"/nights/{night}/choose":            "Version=1&instruments=1&eyepieces=2&targets=m13&show=moon&answer-1=yes&from-1=20:15&to-1=22:00",
	"/nights/sky":                       "Date=2026-09-19&Site=1",
	"/kit/instruments":                  "Design=newtonian&Aperture=8+in&FocalLength=f/6&Mount=rocker-box&Name=Tun&Count=1",
	"/kit/instruments/{id}":             "Version=1&Design=newtonian&Aperture=200+mm&FocalLength=1200&Mount=rocker-box&Name=Tun",
	"/kit/instruments/assumed":          "Design=sct&Aperture=8&FocalLength=f/10",
	"/kit/eyepieces":                    "FocalLength=25&ApparentField=52&Barrel=1.25in&FieldStop=21,2",
	"/kit/amplifiers":                   "Kind=barlow&Factor=2",
	"/kit/diagonals":                    "Barrel=2in",
	"/kit/filters":                      "Kind=neutral",
	"/kit/finders":                      "Kind=straight&ForID=1",
	"/kit/dew-gear":                     "Kind=heater-strip&MaxDiameter=240&Power=12",
	"/kit/batteries":                    "Capacity=17&Voltage=12",
	"/kit/steps":                        "Kind=stool&Height=30+cm",
	"/crew":                             "Name=Noor&Email=n%40club.example&Phone=%2B44+1&Drive=25&skill-mount-rocker-box=alone&Languages=de,+nl",
	"/crew/{id}":                        "Version=1&Name=Noor",
	"/crew/rules":                       "version=1",
	"/crew/import":                      "csv=Name%3BEmail%0ANoor%3Bn%40club.example",
	"/club":                             "Version=1&Name=Club&MinAltitude=15&Paper=a4",
	"/targets":                          "name=Ours&place=05+35+17+-05+23+28&kind=open+cluster&magnitude=6,5&size=20",
	"/targets/satellites":               "satellite=TEST%0A1+06251U%0A2+06251",
	"/nights/{night}/weather/lines":     "line-1-time=sunset&line-1-temp=12&line-1-dew_point=8&line-2-time=midnight&line-2-temp=50+F&line-2-humidity=80",
	"/nights/{night}/weather/file":      "csv=time,temperature,humidity%0A2026-09-19T20:00,12,80&zone=site&do=look",
	"/nights/{night}/decision":          "word=go&who=P&words=Clear",
	"/nights/{night}/line-up/showings":  "instrument=1&target=m13&from=2&to=5",
	"/nights/{night}/roster/duties":     "person=1&post=greeter&from=1789840800&to=1789849800",
	"/nights/{night}/roster/check":      "person=1&post=operator-1&from=0&to=9999999999",
	"/nights/{night}/departure/packing": "item=gear-1&volunteer=1",
	"/nights/{night}/glass/{instrument}/put-out": "putout=18:30&storage=20,5",
	"/nights/{night}/glass/{instrument}/measure": "tau=40",
	"/theme": "theme=lamp&back=//evil.example",
}
