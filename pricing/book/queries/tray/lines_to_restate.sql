-- Lines of dish versions as stored.
-- Parameter: $versions  list of dish_version row ids
-- Columns: those of dish_line. Order: by version, as printed.
SELECT l.* EXCLUDE (row_id, batch)
FROM dish_line l
WHERE l.version_row IN (SELECT unnest($versions::BIGINT[]))
ORDER BY l.version_row, l.position
