package store

import (
	"context"
	"database/sql"
	"errors"
	"math"

	"duskboard/internal/store/column"
	"duskboard/internal/store/db"
	"duskboard/internal/weather"
)

// SaveWeather replaces the weather of a night; an empty series clears it. The
// newest forecast wins, so there is no version to check.
func (s *Store) SaveWeather(ctx context.Context, nightID int64, w weather.Series) error {
	return s.saveWeather(ctx, nightID, "", w)
}

// ReplaceWeather is SaveWeather for what somebody entered: fault.Conflict when
// the weather that is there has another mark than the one they saw.
func (s *Store) ReplaceWeather(ctx context.Context, nightID int64, seen string, w weather.Series) error {
	return s.saveWeather(ctx, nightID, seen, w)
}

func (s *Store) saveWeather(ctx context.Context, nightID int64, seen string, w weather.Series) error {
	return s.write(ctx, "save weather", func(q *db.Queries) error {
		if _, err := q.GetNight(ctx, nightID); err != nil {
			return missing(err, "night", nightID)
		}
		if seen != "" {
			now, err := loadWeather(ctx, q, nightID)
			if err != nil {
				return err
			}
			if now.Mark() != seen {
				return changed("weather")
			}
		}
		if err := q.DeleteWeather(ctx, nightID); err != nil {
			return err
		}
		if w.Empty() {
			return note(ctx, q, nightID, "clear the weather")
		}
		if err := putWeather(ctx, q, nightID, w); err != nil {
			return err
		}
		return note(ctx, q, nightID, "save weather: "+w.Source)
	})
}

// putWeather writes the weather of a night that has none; an empty series
// writes nothing.
func putWeather(ctx context.Context, q *db.Queries, nightID int64, w weather.Series) error {
	if w.Empty() {
		return nil
	}
	err := q.InsertWeather(ctx, db.InsertWeatherParams{
		NightID: nightID, Source: w.Source, Attribution: w.Attribution,
		IssuedAt: column.At(w.IssuedAt), Notes: w.Notes,
	})
	if err != nil {
		return err
	}
	for _, h := range w.Hours {
		if err := q.InsertWeatherHour(ctx, hourParams(nightID, h)); err != nil {
			return err
		}
	}
	return nil
}

// loadWeather returns the weather of a night; empty when there is none.
func loadWeather(ctx context.Context, q *db.Queries, nightID int64) (weather.Series, error) {
	r, err := q.GetWeather(ctx, nightID)
	if errors.Is(err, sql.ErrNoRows) {
		return weather.Series{}, nil
	}
	if err != nil {
		return weather.Series{}, err
	}
	w := weather.Series{Source: r.Source, Attribution: r.Attribution, IssuedAt: r.IssuedAt.Time, Notes: r.Notes}
	rows, err := q.ListWeatherHours(ctx, nightID)
	w.Hours, err = each(rows, err, hourOf)
	return w, err
}

// hourParams turns what nobody gave into NULL.
func hourParams(nightID int64, h weather.Hour) db.InsertWeatherHourParams {
	given := func(f weather.Fields, x float64) column.Real {
		if !h.Has(f) {
			return column.Real(math.NaN())
		}
		return column.Real(x)
	}
	p := db.InsertWeatherHourParams{
		NightID: nightID, At: column.At(h.Time), Temp: h.Temp, DewPoint: h.DewPoint, RH: h.RH,
		Cloud: given(weather.Cloud, h.Cloud), CloudLow: h.CloudLow, CloudMid: h.CloudMid, CloudHigh: h.CloudHigh,
		Wind: given(weather.Wind, h.Wind), Gust: given(weather.Gust, h.Gust),
		Precip: given(weather.Precip, h.Precip), PrecipProb: given(weather.PrecipProb, h.PrecipProb),
		Estimated: h.Estimated,
	}
	if h.Has(weather.Thunder) {
		p.Thunder = &h.Thunder
	}
	return p
}

func hourOf(r db.WeatherHour) weather.Hour {
	h := weather.Hour{
		Time: r.At.Time, Temp: r.Temp, DewPoint: r.DewPoint, RH: r.RH,
		CloudLow: r.CloudLow, CloudMid: r.CloudMid, CloudHigh: r.CloudHigh, Estimated: r.Estimated,
	}
	take := func(f weather.Fields, x column.Real, into *float64) {
		if math.IsNaN(float64(x)) {
			h.Missing |= f
			return
		}
		*into = float64(x)
	}
	take(weather.Cloud, r.Cloud, &h.Cloud)
	take(weather.Wind, r.Wind, &h.Wind)
	take(weather.Gust, r.Gust, &h.Gust)
	take(weather.Precip, r.Precip, &h.Precip)
	take(weather.PrecipProb, r.PrecipProb, &h.PrecipProb)
	if r.Thunder == nil {
		h.Missing |= weather.Thunder
	} else {
		h.Thunder = *r.Thunder
	}
	return h
}
