-- Dish versions as stored, with what is said of them beside the recipe.
-- Parameter: $versions  list of dish_version row ids
-- Columns: those of dish_version, dish_detail and dish_trial (NULL where it states none), and whether
--          it states any. Order: by row.
SELECT v.row_id AS version_row, v.line, v.raw, v.dish_id, v.version, v.effective_from, v.portions,
       v.batch_weight_g, d.version_row IS NOT NULL AS has_detail, d.dish_group, d.minutes,
       d.made_per_month, d.target, b.version_row IS NOT NULL AS has_trial, b.minutes_waiting,
       b.energy_kwh, b.pots, b.marks, b.tasting_note
FROM dish_version v
LEFT JOIN dish_detail d ON d.version_row = v.row_id
LEFT JOIN dish_trial b ON b.version_row = v.row_id
WHERE v.row_id IN (SELECT unnest($versions::BIGINT[]))
ORDER BY v.row_id
