package weather

import (
	"regexp"
	"strings"
)

// column is one column of a file.
type column struct {
	header  string // as written
	name    string // one of the Col names; empty for a column we do not use
	kind    kind
	conv    conversion // of a value that carries no unit
	unitFor int        // index of the column whose units this one holds, or -1
	unitIn  int        // index of the column that holds this one's units, or -1
}

// spellings are the accepted names of each column, as [headerKey] leaves them.
var spellings = []struct {
	name  string
	kind  kind
	names []string
}{
	{ColTime, plain, []string{"time", "date", "datetime", "date time", "date and time", "hour", "clock", "when", "valid", "valid time", "timestamp", "utc", "local time"}},
	{ColTemp, temperature, []string{"temp", "temperature", "air temp", "air temperature", "t", "temperature 2m", "temp 2m", "drybulb", "dry bulb"}},
	{ColDewPoint, temperature, []string{"dew point", "dewpoint", "dew", "td", "dew point temperature", "dewpoint temperature", "dew point 2m", "dewpoint 2m"}},
	{ColRH, percentage, []string{"humidity", "relative humidity", "rh", "rel humidity", "relative humidity 2m", "hum"}},
	{ColCloud, percentage, []string{"cloud", "clouds", "cloud cover", "cloudcover", "total cloud", "sky cover", "cloud total", "cloud cover total", "cloudiness"}},
	{ColCloudLow, percentage, []string{"cloud low", "low cloud", "low clouds", "cloud cover low"}},
	{ColCloudMid, percentage, []string{"cloud mid", "mid cloud", "mid clouds", "middle cloud", "cloud middle", "cloud cover mid", "medium cloud", "cloud medium"}},
	{ColCloudHigh, percentage, []string{"cloud high", "high cloud", "high clouds", "cloud cover high"}},
	{ColWind, speed, []string{"wind", "wind speed", "windspeed", "mean wind", "wind speed 10m"}},
	{ColGust, speed, []string{"gust", "gusts", "wind gust", "wind gusts", "wind gusts 10m"}},
	{ColPrecip, depth, []string{"rain", "precip", "precipitation", "rainfall"}},
	{ColPrecipProb, percentage, []string{"rain chance", "chance of rain", "rain probability", "pop", "precip prob", "precip probability", "precipitation probability", "probability of precipitation"}},
	{ColThunder, percentage, []string{"thunder", "thunderstorm", "lightning", "storm"}},
}

// CSVColumns is the accepted names by the meaning of the column, for the page
// that explains the file.
func CSVColumns() map[string][]string {
	m := make(map[string][]string, len(spellings))
	for _, s := range spellings {
		m[s.name] = append([]string(nil), s.names...)
	}
	return m
}

// cell is where a column's value goes.
func (c column) cell(r *raw) *float64 {
	switch c.name {
	case ColTemp:
		return &r.temp
	case ColDewPoint:
		return &r.dewPoint
	case ColRH:
		return &r.rh
	case ColCloud:
		return &r.cloud
	case ColCloudLow:
		return &r.cloudLow
	case ColCloudMid:
		return &r.cloudMid
	case ColCloudHigh:
		return &r.cloudHigh
	case ColWind:
		return &r.wind
	case ColGust:
		return &r.gust
	case ColPrecip:
		return &r.precip
	case ColPrecipProb:
		return &r.precipProb
	default:
		return &r.storm
	}
}

// bracketed finds a unit in round or square brackets.
var bracketed = regexp.MustCompile(`[(\[]([^)\]]*)[)\]]`)

// headerKey brings a header to lower case words without the bracketed unit,
// which it returns apart.
func headerKey(h string) (key, unit string) {
	if m := bracketed.FindStringSubmatch(h); m != nil {
		unit = m[1]
		h = strings.Replace(h, m[0], " ", 1)
	}
	h = strings.NewReplacer("_", " ", "-", " ", ".", " ").Replace(strings.ToLower(h))
	return strings.Join(strings.Fields(h), " "), unit
}

func known(key string) (string, kind, bool) {
	for _, s := range spellings {
		for _, n := range s.names {
			if n == key {
				return s.name, s.kind, true
			}
		}
	}
	return "", plain, false
}

// columnOf reads one header: a known name, or one with a unit as last word.
func columnOf(header string) (column, string) {
	key, unit := headerKey(header)
	c := column{header: strings.TrimSpace(header), conv: same, unitFor: -1, unitIn: -1}
	name, k, ok := known(key)
	if !ok {
		if i := strings.LastIndexAny(key, " ,"); i > 0 && unit == "" {
			if name, k, ok = known(strings.TrimRight(key[:i], " ,")); ok {
				unit = key[i+1:]
			}
		}
	}
	if !ok {
		return c, ""
	}
	c.name, c.kind = name, k
	return c, unit
}

// header reads the names of the columns and reports whether rows can follow.
func (p *csvParser) header(line int, rec []string) bool {
	before := len(p.faults)
	seen := map[string]string{}
	p.columns = make([]column, len(rec))
	for i, h := range rec {
		c, unit := columnOf(h)
		switch {
		case c.name == "":
		case unit == "unit" || unit == "units":
			c.unitFor = i // paired below
		case seen[c.name] != "":
			p.faults.add(line, c.header, "means the same as the column %q", seen[c.name])
		default:
			seen[c.name] = c.header
			if unit != "" && c.kind != plain {
				conv, ok := unitOf(c.kind, unit)
				if !ok {
					p.faults.add(line, c.header, "the unit %q does not fit here", unit)
				}
				c.conv = conv
			}
		}
		p.columns[i] = c
	}
	p.pairUnits()
	if seen[ColTime] == "" {
		p.faults.add(line, "", "there is no column of times; name it \"time\"")
	}
	if seen[ColTemp] == "" {
		p.faults.add(line, "", "there is no column of air temperatures; name it \"temp\"")
	}
	if seen[ColRH] == "" && seen[ColDewPoint] == "" {
		p.faults.add(line, "", "there is neither a humidity nor a dew point; name it \"humidity\" or \"dew point\"")
	}
	return len(p.faults) == before
}

// pairUnits ties every column of units to the values it speaks of.
func (p *csvParser) pairUnits() {
	for i := range p.columns {
		if p.columns[i].unitFor < 0 {
			continue
		}
		for k := range p.columns {
			if k != i && p.columns[k].unitFor < 0 && p.columns[k].name == p.columns[i].name {
				p.columns[i].unitFor, p.columns[k].unitIn = k, i
			}
		}
	}
}

// unitRow takes the second line as units when it holds nothing but units, and
// reports whether it did.
func (p *csvParser) unitRow(rec []string) bool {
	if len(rec) != len(p.columns) {
		return false
	}
	convs := make([]conversion, len(rec))
	any := false
	for i, c := range p.columns {
		cell := strings.TrimSpace(rec[i])
		convs[i] = c.conv
		if cell == "" || c.name == "" || c.kind == plain {
			// A time column has no unit; a real time there means a row of values.
			if c.name == ColTime && strings.ContainsAny(cell, ":0") {
				return false
			}
			continue
		}
		conv, ok := unitOf(c.kind, cell)
		if !ok {
			return false
		}
		convs[i], any = conv, true
	}
	if !any {
		return false
	}
	for i := range convs {
		p.columns[i].conv = convs[i]
	}
	return true
}

// headerOf is the file's own name of a column, or ours when it has none.
func (p *csvParser) headerOf(name string) string {
	for _, c := range p.columns {
		if c.name == name && c.unitFor < 0 {
			return c.header
		}
	}
	return name
}
