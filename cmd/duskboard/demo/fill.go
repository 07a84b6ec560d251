package demo

import (
	"context"
	"fmt"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/ground"
	"duskboard/internal/kit"
	"duskboard/internal/night"
	"duskboard/internal/sky"
	"duskboard/internal/weather"
)

// Store is what the demo writes into.
type Store interface {
	SaveClub(ctx context.Context, c *night.Club) error
	Club(ctx context.Context) (night.Club, error)
	SaveSite(ctx context.Context, s *night.Site) error
	ImportKit(ctx context.Context, k kit.Kit) error
	Kit(ctx context.Context, withRetired bool) (kit.Kit, error)
	SaveVolunteer(ctx context.Context, v *crew.Volunteer) error
	SaveNight(ctx context.Context, n *night.Night) error
	SaveChoice(ctx context.Context, nightID, version int64, c night.Choice) error
	SaveGround(ctx context.Context, siteID int64, g *ground.Ground) error
	SaveWeather(ctx context.Context, nightID int64, s weather.Series) error
}

// Fill writes the invented club into an empty store and plans its next
// suitable night after now. It returns the night, for the caller to propose a
// line-up.
func Fill(ctx context.Context, st Store, now time.Time) (night.Night, error) {
	var none night.Night
	club, err := st.Club(ctx)
	if err != nil {
		return none, err
	}
	club.Name, club.Paper, club.Ladders = "Marsh Lane Skywatchers", "a4", true
	club.Contact = "Priya, at the gate"
	if err := st.SaveClub(ctx, &club); err != nil {
		return none, err
	}
	places := sites()
	for i := range places {
		if err := st.SaveSite(ctx, &places[i]); err != nil {
			return none, fmt.Errorf("site %s: %w", places[i].Name, err)
		}
	}
	field := meadow()
	if err := st.SaveGround(ctx, places[0].ID, &field); err != nil {
		return none, fmt.Errorf("ground of %s: %w", places[0].Name, err)
	}
	if err := st.ImportKit(ctx, clubKit(now)); err != nil {
		return none, fmt.Errorf("kit: %w", err)
	}
	k, err := st.Kit(ctx, false)
	if err != nil {
		return none, err
	}
	people := volunteers(func(name string) int64 {
		for _, i := range k.Instruments {
			if i.Name == name {
				return i.ID
			}
		}
		return 0
	})
	for i := range people {
		if err := st.SaveVolunteer(ctx, &people[i]); err != nil {
			return none, fmt.Errorf("volunteer %s: %w", people[i].Name, err)
		}
	}
	n, err := suitable(places[0], now)
	if err != nil {
		return none, err
	}
	if err := st.SaveNight(ctx, &n); err != nil {
		return none, fmt.Errorf("night: %w", err)
	}
	if err := st.SaveChoice(ctx, n.ID, n.Version, choice(k, people, n)); err != nil {
		return none, fmt.Errorf("what the night uses: %w", err)
	}
	return n, st.SaveWeather(ctx, n.ID, evening(n, now))
}

func clubKit(now time.Time) kit.Kit {
	return kit.Kit{
		Instruments: instruments(now), Eyepieces: eyepieces(), Amplifiers: amplifiers(), Diagonals: diagonals(),
		Filters: filters(), Finders: finders(), DewGear: dewGear(), Batteries: batteries(), Steps: steps(),
	}.Fill()
}

// searchDays is how far ahead the demo looks for its night.
const searchDays = 45

// suitable finds the next Friday or Saturday whose evening has a Moon between
// a third and three quarters lit, well up when the gate opens; without one,
// the next Saturday. A gate that opens 40 minutes after sunset lets the Moon
// and planets start in twilight.
func suitable(s night.Site, now time.Time) (night.Night, error) {
	zone, err := s.Location()
	if err != nil {
		return night.Night{}, err
	}
	today := sky.DateOf(now, zone)
	var fallback *night.Night
	for d := 1; d <= searchDays; d++ {
		date := today.AddDays(d)
		wd := time.Date(date.Year, date.Month, date.Day, 12, 0, 0, 0, time.UTC).Weekday()
		if wd != time.Friday && wd != time.Saturday {
			continue
		}
		sn, err := sky.NewNight(s.Place, date, zone)
		if err != nil {
			return night.Night{}, err
		}
		sunset := sn.Twilights().Sunset
		if sunset.State != sky.Happens {
			continue
		}
		n := plan(s, date, sunset.Time, zone)
		if wd == time.Saturday && fallback == nil {
			f := n
			fallback = &f
		}
		moon := sn.Moon(n.PublicFrom)
		alt := sn.At(sky.Moon, n.PublicFrom.Add(time.Hour)).Alt
		if moon.Illuminated > 0.33 && moon.Illuminated < 0.75 && alt > 25 {
			return n, nil
		}
	}
	if fallback == nil {
		return night.Night{}, fmt.Errorf("no evening with a sunset in the next %d days at %s", searchDays, s.Name)
	}
	return *fallback, nil
}

// plan makes the night of a date: two and a half public hours from the first
// quarter of an hour at least 40 minutes after sunset.
func plan(s night.Site, date sky.Date, sunset time.Time, zone *time.Location) night.Night {
	const quarter = 15 * time.Minute
	from := sunset.Add(40 * time.Minute)
	local := from.In(zone)
	past := time.Duration(local.Minute()%15)*time.Minute + time.Duration(local.Second())*time.Second + time.Duration(local.Nanosecond())
	if past > 0 {
		from = from.Add(quarter - past)
	}
	name := map[time.Month]string{
		time.December: "Winter", time.January: "Winter", time.February: "Winter", time.March: "Spring", time.April: "Spring", time.May: "Spring",
		time.June: "Summer", time.July: "Summer", time.August: "Summer", time.September: "Autumn", time.October: "Autumn", time.November: "Autumn",
	}[date.Month]
	return night.Night{
		Name: name + " night for families", Date: date, SiteID: s.ID, PublicFrom: from.UTC(), Public: 150 * time.Minute,
		Block: 15 * time.Minute, Guests: 180, Audience: night.Families, Seeing: 2.5,
	}
}

// evening is typed-in weather: a clear, calm evening on which the air falls
// steadily and grows damp, so that dew and cool-down have something to say.
func evening(n night.Night, now time.Time) weather.Series {
	base := 9.0
	switch n.Date.Month {
	case time.December, time.January, time.February:
		base = 2
	case time.June, time.July, time.August:
		base = 18
	}
	s := weather.Series{Source: "typed in for the demo", IssuedAt: now.UTC()}
	start := n.PublicFrom.Truncate(time.Hour).Add(-4 * time.Hour)
	for h := 0; h <= 10; h++ {
		t := base - 0.6*float64(h)
		dew := base - 8.0 - 0.05*float64(h)
		s.Hours = append(s.Hours, weather.Hour{
			Time: start.Add(time.Duration(h) * time.Hour), Temp: t, DewPoint: dew, RH: weather.RelativeHumidity(t, dew),
			Cloud: 10, Wind: 1.5, Gust: 3, Missing: weather.Precip | weather.PrecipProb | weather.Thunder,
		})
	}
	return s
}
