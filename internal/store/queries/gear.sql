-- name: RaiseGear :execrows
-- Touches no row when the version is not the present one.
UPDATE gear SET version = version + 1
WHERE id = @id AND version = @version AND kind = @kind;

-- name: PutGear :one
-- An id of NULL makes a new row under an id that none ever had. RaiseGear must have agreed to a change.
INSERT INTO gear (
    id, kind, name, owner_id, count, notes, retired, assumed
)
VALUES (
    coalesce(
        CAST(sqlc.narg(id) AS INTEGER),
        1 + max((SELECT l.id FROM last_ids l WHERE l.kind = 'gear'), (SELECT coalesce(max(x.id), 0) FROM gear x))
    ),
    @kind, @name, @owner_id, @count, @notes, @retired, @assumed
)
ON CONFLICT (id) DO UPDATE SET
    kind = excluded.kind,
    name = excluded.name,
    owner_id = excluded.owner_id,
    count = excluded.count,
    notes = excluded.notes,
    retired = excluded.retired,
    assumed = excluded.assumed
RETURNING id;

-- name: CountGear :one
SELECT count(*) FROM gear WHERE id = @id AND kind = @kind;
