-- name: GetWeather :one
SELECT * FROM weather WHERE night_id = ?;

-- name: ListWeatherHours :many
SELECT * FROM weather_hours WHERE night_id = ? ORDER BY at;

-- name: DeleteWeather :exec
-- Its hours go with it.
DELETE FROM weather WHERE night_id = ?;

-- name: InsertWeather :exec
INSERT INTO weather (night_id, source, attribution, issued_at, notes)
VALUES (@night_id, @source, @attribution, @issued_at, @notes);

-- name: InsertWeatherHour :exec
INSERT INTO weather_hours (
    night_id, at, temp, dew_point, rh, cloud, cloud_low, cloud_mid, cloud_high,
    wind, gust, precip, precip_prob, thunder, estimated
)
VALUES (
    @night_id, @at, @temp, @dew_point, @rh, @cloud, @cloud_low, @cloud_mid, @cloud_high,
    @wind, @gust, @precip, @precip_prob, @thunder, @estimated
);
