-- name: ListInstruments :many
-- A night of 0 lists all that the club has.
SELECT sqlc.embed(gear), sqlc.embed(instruments)
FROM instruments JOIN gear ON gear.id = instruments.id
WHERE gear.retired <= @with_retired
    AND (
        CAST(@night_id AS INTEGER) = 0
        OR gear.id IN (SELECT gear_id FROM night_gear WHERE night_gear.night_id = CAST(@night_id AS INTEGER))
    )
ORDER BY gear.name, gear.id;

-- name: GetInstrument :one
SELECT sqlc.embed(gear), sqlc.embed(instruments)
FROM instruments JOIN gear ON gear.id = instruments.id
WHERE gear.id = ?;

-- name: PutInstrument :exec
INSERT INTO instruments (
    id, design, aperture, focal_length, power, fixed_field, obstruction, thickness, glass,
    closed_tube, fan, focuser, max_field_stop, back_focus, mount, tracking, go_to,
    meridian_overrun, min_altitude, max_altitude, eyepiece_place, pivot_height,
    pivot_to_eye, eye_offset, setup_minutes, needs_collimation, weight, dew_shield, heater,
    mount_power, solar_full, solar_certified, solar_fitted, solar_inspected_at, storage,
    time_constant, time_constant_fan, stand, tube_length, image_mirrored
)
VALUES (
    @id, @design, @aperture, @focal_length, @power, @fixed_field, @obstruction, @thickness,
    @glass, @closed_tube, @fan, @focuser, @max_field_stop, @back_focus, @mount, @tracking,
    @go_to, @meridian_overrun, @min_altitude, @max_altitude, @eyepiece_place, @pivot_height,
    @pivot_to_eye, @eye_offset, @setup_minutes, @needs_collimation, @weight, @dew_shield,
    @heater, @mount_power, @solar_full, @solar_certified, @solar_fitted,
    @solar_inspected_at, @storage, @time_constant, @time_constant_fan, @stand, @tube_length,
    @image_mirrored
)
ON CONFLICT (id) DO UPDATE SET
    design = excluded.design,
    aperture = excluded.aperture,
    focal_length = excluded.focal_length,
    power = excluded.power,
    fixed_field = excluded.fixed_field,
    obstruction = excluded.obstruction,
    thickness = excluded.thickness,
    glass = excluded.glass,
    closed_tube = excluded.closed_tube,
    fan = excluded.fan,
    focuser = excluded.focuser,
    max_field_stop = excluded.max_field_stop,
    back_focus = excluded.back_focus,
    mount = excluded.mount,
    tracking = excluded.tracking,
    go_to = excluded.go_to,
    meridian_overrun = excluded.meridian_overrun,
    min_altitude = excluded.min_altitude,
    max_altitude = excluded.max_altitude,
    eyepiece_place = excluded.eyepiece_place,
    pivot_height = excluded.pivot_height,
    pivot_to_eye = excluded.pivot_to_eye,
    eye_offset = excluded.eye_offset,
    setup_minutes = excluded.setup_minutes,
    needs_collimation = excluded.needs_collimation,
    weight = excluded.weight,
    dew_shield = excluded.dew_shield,
    heater = excluded.heater,
    mount_power = excluded.mount_power,
    solar_full = excluded.solar_full,
    solar_certified = excluded.solar_certified,
    solar_fitted = excluded.solar_fitted,
    solar_inspected_at = excluded.solar_inspected_at,
    storage = excluded.storage,
    time_constant = excluded.time_constant,
    time_constant_fan = excluded.time_constant_fan,
    stand = excluded.stand,
    tube_length = excluded.tube_length,
    image_mirrored = excluded.image_mirrored;
