-- name: ListOwnTargets :many
SELECT * FROM own_targets WHERE removed = 0 ORDER BY name, id;

-- name: GetOwnTarget :one
SELECT * FROM own_targets WHERE id = ?;

-- name: RaiseOwnTarget :execrows
-- Touches no row when the version is not the present one.
UPDATE own_targets SET version = version + 1
WHERE id = @id AND version = @version AND removed = 0;

-- name: PutOwnTarget :one
-- An id of NULL makes a new row. RaiseOwnTarget must have agreed to a change.
INSERT INTO own_targets (
    id, name, designations, kind, constellation, ra, dec, pm_ra, pm_dec, magnitude, bv,
    major_axis, minor_axis, position_angle, brightness, distance, light_years,
    distance_error, double, variable, reach, delight, showpiece, words, source, elements
)
VALUES (
    sqlc.narg(id), @name, @designations, @kind, @constellation, @ra, @dec, @pm_ra, @pm_dec,
    @magnitude, @bv, @major_axis, @minor_axis, @position_angle, @brightness, @distance,
    @light_years, @distance_error, @double, @variable, @reach, @delight, @showpiece, @words,
    @source, @elements
)
ON CONFLICT (id) DO UPDATE SET
    name = excluded.name,
    designations = excluded.designations,
    kind = excluded.kind,
    constellation = excluded.constellation,
    ra = excluded.ra,
    dec = excluded.dec,
    pm_ra = excluded.pm_ra,
    pm_dec = excluded.pm_dec,
    magnitude = excluded.magnitude,
    bv = excluded.bv,
    major_axis = excluded.major_axis,
    minor_axis = excluded.minor_axis,
    position_angle = excluded.position_angle,
    brightness = excluded.brightness,
    distance = excluded.distance,
    light_years = excluded.light_years,
    distance_error = excluded.distance_error,
    double = excluded.double,
    variable = excluded.variable,
    reach = excluded.reach,
    delight = excluded.delight,
    showpiece = excluded.showpiece,
    words = excluded.words,
    source = excluded.source,
    elements = excluded.elements
RETURNING id;

-- name: RemoveOwnTarget :exec
UPDATE own_targets SET removed = 1 WHERE id = ?;
