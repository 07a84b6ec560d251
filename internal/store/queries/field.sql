-- name: GetGoRules :one
SELECT * FROM go_rules WHERE id = 1;

-- name: UpdateGoRules :execrows
UPDATE go_rules
SET
    version = version + 1,
    decide = @decide,
    post = @post,
    cloud_doubt = @cloud_doubt,
    cloud_off = @cloud_off,
    wind_doubt = @wind_doubt,
    wind_off = @wind_off,
    gust_doubt = @gust_doubt,
    gust_off = @gust_off,
    rain_doubt = @rain_doubt,
    rain_off = @rain_off,
    seeing_doubt = @seeing_doubt,
    seeing_off = @seeing_off,
    chill_doubt = @chill_doubt,
    chill_off = @chill_off,
    dew_margin = @dew_margin,
    min_hours = @min_hours,
    go_share = @go_share
WHERE id = 1 AND version = @version;

-- name: ListDecisions :many
SELECT * FROM decisions WHERE night_id = ? ORDER BY id;

-- name: InsertDecision :exec
INSERT INTO decisions (night_id, at, who, verdict, words)
VALUES (@night_id, @at, @who, @verdict, @words);

-- name: ListPutOuts :many
SELECT * FROM put_outs WHERE night_id = ? ORDER BY instrument_id;

-- name: DeletePutOut :exec
DELETE FROM put_outs WHERE night_id = @night_id AND instrument_id = @instrument_id;

-- name: InsertPutOut :exec
INSERT INTO put_outs (night_id, instrument_id, put_out_at, storage_temp, fan_off)
VALUES (@night_id, @instrument_id, @put_out_at, @storage_temp, @fan_off);

-- name: ListPacking :many
SELECT * FROM packing WHERE night_id = ? ORDER BY item, volunteer_id;

-- name: DeletePacking :exec
DELETE FROM packing WHERE night_id = @night_id AND item = @item AND volunteer_id = @volunteer_id;

-- name: InsertPacking :exec
INSERT INTO packing (night_id, item, volunteer_id, brings)
VALUES (@night_id, @item, @volunteer_id, @brings);
