-- Every dish version in force, one row a line, in the words of a dishes file.
-- The columns stored_… say how quantity and unit were read (stored_for is NULL where the line takes
-- another dish); they are not part of the file.
-- Order: by dish as compared, then by version (of one day: as loaded), then as printed.
SELECT v.dish, v.version, v.effective_from, v.portions, v.batch_weight_g,
       coalesce(i.name, 'dish:' || s.name) AS ingredient,
       l.quantity, l.unit, l.state, l.yield_pct,
       CASE WHEN l.pantry THEN 'yes' ELSE 'no' END AS pantry, l.note,
       v.dish_group AS "group", v.minutes, v.made_per_month, v.target,
       v.minutes_waiting, v.energy_kwh, v.pots, array_to_string(v.marks, ';') AS marks,
       v.tasting_note,
       l.ingredient_id AS stored_for, l.amount AS stored_amount, l.dimension AS stored_dimension,
       l.measure_key AS stored_measure
FROM dish_version_now v
JOIN dish_line l ON l.version_row = v.row_id
LEFT JOIN ingredient i ON i.ingredient_id = l.ingredient_id
LEFT JOIN dish s ON s.dish_id = l.sub_dish_id
ANTI JOIN retraction r ON r.row_id = l.row_id
ORDER BY v.dish_key, v.effective_from, v.row_id, l.position
