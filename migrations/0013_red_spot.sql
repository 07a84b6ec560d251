-- Why: Jupiter's red spot drifts, so the club sets the longitude (System II,
-- degrees) at which it was last seen; the night's sky page then tells when it
-- crosses the disc.
-- Existing rows: unknown (NULL), no passages are told.

-- +goose Up
ALTER TABLE club ADD COLUMN spot_longitude REAL CHECK (spot_longitude >= 0 AND spot_longitude < 360);
