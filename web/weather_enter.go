package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/internal/weather"
	"duskboard/web/views"
)

// lineColumns are the boxes of one typed line.
var lineColumns = []struct {
	column, label, unit string
	of                  func(*weather.Line) *string
}{
	{weather.ColTime, "When", "", func(l *weather.Line) *string { return &l.When }},
	{weather.ColTemp, "Air", "°C", func(l *weather.Line) *string { return &l.Temp }},
	{weather.ColDewPoint, "Dew point", "°C", func(l *weather.Line) *string { return &l.DewPoint }},
	{weather.ColRH, "Humidity", "%", func(l *weather.Line) *string { return &l.Humidity }},
	{weather.ColCloud, "Cloud", "%", func(l *weather.Line) *string { return &l.Cloud }},
	{weather.ColWind, "Wind", "m/s", func(l *weather.Line) *string { return &l.Wind }},
	{weather.ColGust, "Gusts", "m/s", func(l *weather.Line) *string { return &l.Gust }},
	{weather.ColPrecip, "Rain", "mm", func(l *weather.Line) *string { return &l.Rain }},
	{weather.ColPrecipProb, "Rain chance", "%", func(l *weather.Line) *string { return &l.RainChance }},
}

func lineName(n int, column string) string { return fmt.Sprintf("line-%d-%s", n, column) }

// lineFields are the boxes of all lines as typed, each with its fault.
func lineFields(f weatherForm) []views.WeatherLine {
	var out []views.WeatherLine
	for i := range f.lines {
		l := views.WeatherLine{Number: i + 1}
		for _, c := range lineColumns {
			box := views.Field{Name: lineName(i+1, c.column), Label: c.label, Unit: c.unit, Value: *c.of(&f.lines[i])}
			for _, x := range f.faults {
				if f.open == "lines" && x.Line == i+1 && x.Column == c.column {
					box.Error = first(x.Reason) + "."
				}
			}
			l.Cells = append(l.Cells, box)
		}
		out = append(out, l)
	}
	return out
}

// lineFaults is the summary above refused lines.
func lineFaults(faults weather.Faults) []views.FieldError {
	var out []views.FieldError
	for _, x := range faults {
		name, label := lineName(max(x.Line, 1), weather.ColTime), "The lines"
		if x.Line > 0 {
			label = fmt.Sprintf("Line %d", x.Line)
		}
		for _, c := range lineColumns {
			if c.column == x.Column && x.Line > 0 {
				name, label = lineName(x.Line, c.column), label+", "+strings.ToLower(c.label)
			}
		}
		out = append(out, views.FieldError{Name: name, Label: label, Message: first(x.Reason) + "."})
	}
	return out
}

// saveLines keeps typed weather. A line with nothing but its time does not
// count; what was typed stays when it is refused.
func (s *server) saveLines(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightOf(r)
	if err != nil {
		return err
	}
	f := weatherForm{open: "lines", lines: make([]weather.Line, mostLines)}
	var used []weather.Line
	var number []int // of the used lines on the form
	for i := range f.lines {
		empty := true
		for _, c := range lineColumns {
			v := strings.TrimSpace(r.PostFormValue(lineName(i+1, c.column)))
			*c.of(&f.lines[i]) = v
			empty = empty && (v == "" || c.column == weather.ColTime)
		}
		if !empty {
			used, number = append(used, f.lines[i]), append(number, i+1)
		}
	}
	series, err := weather.ParseLines(used, anchors(sh), s.now().UTC())
	if err == nil {
		err = covers(sh, series)
	}
	if errors.As(err, &f.faults) {
		for i := range f.faults {
			if n := f.faults[i].Line; n > 0 && n <= len(number) {
				f.faults[i].Line = number[n-1]
			}
		}
		return s.weatherPage(w, r, http.StatusUnprocessableEntity, sh, f)
	}
	if err != nil {
		return err
	}
	kept, err := s.replaceWeather(r, sh, series)
	if err == nil && !kept {
		f.faults = weather.Faults{{Reason: weatherTaken}}
		return s.weatherPage(w, r, http.StatusConflict, sh, f)
	}
	if err != nil {
		return err
	}
	return weatherKept(w, r, sh, series)
}

// covers refuses weather that does not touch the public hours: it is of
// another night.
func covers(sh *night.Sheet, x weather.Series) error {
	if len(x.Sample(sh.Night.PublicFrom, sh.Night.PublicTo(), 15*time.Minute)) > 0 || x.Empty() {
		return nil
	}
	return weather.Faults{{Reason: fmt.Sprintf("this weather runs from %s to %s and does not touch the public hours of %s", dayClock(sh, x.Hours[0].Time), dayClock(sh, x.Hours[len(x.Hours)-1].Time), longDate(sh))}}
}

// weatherTaken is said beside what was typed or sent; the page shows the
// weather that is there, and its form carries that one's mark.
const weatherTaken = "somebody else saved weather since you opened this page; it stands above, if it was not cleared. Save again to put yours in its place"

// replaceWeather keeps what somebody entered; false when the weather that is
// there is not the one that their page showed.
func (s *server) replaceWeather(r *http.Request, sh *night.Sheet, x weather.Series) (kept bool, err error) {
	err = s.store.ReplaceWeather(r.Context(), sh.Night.ID, r.PostFormValue("version"), x)
	if fault.KindOf(err) == fault.Conflict {
		return false, nil
	}
	return err == nil, err
}

func weatherKept(w http.ResponseWriter, r *http.Request, sh *night.Sheet, x weather.Series) error {
	return redirect(w, r, weatherPath(sh.Night.ID), views.Flash{Text: fmt.Sprintf("Weather saved: %s. Dew, cool-down and the verdict follow it.", plural(len(x.Hours), "hour", "hours"))})
}

// saveFile reads a pasted or uploaded file, shows what it says or what is wrong
// with each row, and keeps it when it was asked to.
func (s *server) saveFile(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightOf(r)
	if err != nil {
		return err
	}
	f := weatherForm{open: "file", lines: blankLines(sh), looked: true}
	if f.csv, f.fileFault, err = sentText(r, "csv"); err != nil {
		return err
	}
	f.zone, f.made = r.PostFormValue("zone"), strings.TrimSpace(r.PostFormValue("made"))
	if f.fileFault == "" && strings.TrimSpace(f.csv) == "" {
		f.fileFault = "Paste the weather, or choose a file."
	}
	if f.fileFault != "" {
		return s.weatherPage(w, r, http.StatusUnprocessableEntity, sh, f)
	}
	opts := weather.CSVOptions{Zone: sh.Zone, Evening: anchors(sh).Evening}
	if f.zone == "utc" {
		opts.Zone = time.UTC
	}
	if f.made != "" {
		m, err := parseClock(f.made)
		if err != nil {
			f.fileFault = "The forecast is of: " + err.Error() + "."
			return s.weatherPage(w, r, http.StatusUnprocessableEntity, sh, f)
		}
		opts.Made = lastTime(s.now(), m, sh.Zone)
	}
	f.read, err = weather.ParseCSV(strings.NewReader(f.csv), opts)
	if err == nil {
		err = covers(sh, f.read)
	}
	if errors.As(err, &f.faults) {
		return s.weatherPage(w, r, http.StatusUnprocessableEntity, sh, f)
	}
	if err != nil {
		return err
	}
	if r.PostFormValue("do") != "save" {
		return s.weatherPage(w, r, http.StatusOK, sh, f)
	}
	kept, err := s.replaceWeather(r, sh, f.read)
	if err == nil && !kept {
		f.fileFault = first(weatherTaken) + "."
		return s.weatherPage(w, r, http.StatusConflict, sh, f)
	}
	if err != nil {
		return err
	}
	return weatherKept(w, r, sh, f.read)
}

// lastTime is the newest instant not after now at which a clock in the zone
// showed the given minutes.
func lastTime(now time.Time, minutes int, zone *time.Location) time.Time {
	l := now.In(zone)
	t := time.Date(l.Year(), l.Month(), l.Day(), 0, minutes, 0, 0, zone)
	if t.After(now) {
		t = time.Date(l.Year(), l.Month(), l.Day()-1, 0, minutes, 0, 0, zone)
	}
	return t.UTC()
}

// clearWeather takes the weather away.
func (s *server) clearWeather(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightOf(r)
	if err != nil {
		return err
	}
	if err := s.store.ReplaceWeather(r.Context(), sh.Night.ID, r.PostFormValue("version"), weather.Series{}); err != nil {
		return err
	}
	return redirect(w, r, weatherPath(sh.Night.ID), views.Flash{Text: "The weather is cleared; every page says so."})
}

const (
	// fetchTime bounds a fetch with its repeats, inside the time a request has.
	fetchTime = 8 * time.Second
	// fetchBefore and fetchAfter widen what is asked for: glass goes out hours
	// before the gate opens, and wet kit is packed after it closes.
	fetchBefore, fetchAfter = 9 * time.Hour, 3 * time.Hour
)

// fetchWeather asks the forecast service, once, and keeps what comes.
func (s *server) fetchWeather(w http.ResponseWriter, r *http.Request) error {
	sh, err := s.nightOf(r)
	if err != nil {
		return err
	}
	if s.forecast == nil {
		return fault.New(fault.Forbidden, "No forecast service is switched on here.")
	}
	ctx, cancel := context.WithTimeout(r.Context(), fetchTime)
	defer cancel()
	place := sh.Site.Place
	x, err := s.forecast.Fetch(ctx, weather.Query{Latitude: place.Lat, Longitude: place.Lon, Elevation: place.Elev,
		From: sh.Night.PublicFrom.Add(-fetchBefore), To: sh.Night.PublicTo().Add(fetchAfter)})
	if err == nil {
		err = covers(sh, x)
	}
	if err != nil {
		recordOf(r).err = err
		f := weatherForm{lines: blankLines(sh), open: "lines", fetchWhy: fetchFault(err, s.forecast.Name())}
		return s.weatherPage(w, r, http.StatusBadGateway, sh, f)
	}
	// The newest forecast takes the place of whatever is there, as its button says.
	if err := s.store.SaveWeather(r.Context(), sh.Night.ID, x); err != nil {
		return err
	}
	return weatherKept(w, r, sh, x)
}

// fetchFault says what went wrong with a fetch and what to do now.
func fetchFault(err error, service string) string {
	var f *weather.FetchError
	var off weather.Faults
	switch {
	case errors.As(err, &off):
		return first(off[0].Reason) + ". The weather that was here stays."
	case errors.As(err, &f):
		return strings.TrimSuffix(f.Reason, ".") + ". The weather that was here stays; three typed lines do as well."
	}
	return service + " did not answer in time. The weather that was here stays; try again, or type three lines."
}
