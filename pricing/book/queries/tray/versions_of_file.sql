-- Dish versions that a file brought before, whatever became of them.
-- Parameter: $sha256  of the file
-- Columns: dish_key, version, effective_from. Order: as stored, the last one counts.
SELECT d.name_key AS dish_key, v.version, v.effective_from
FROM dish_version v
JOIN load_batch b ON b.batch = v.batch
JOIN dish d USING (dish_id)
ANTI JOIN retraction r ON r.row_id = v.row_id
WHERE b.file_sha256 = $sha256 AND b.kind = 'dishes'
ORDER BY v.row_id
