-- One version of a dish in the words in which it was entered, one row a line.
-- Parameter: $version_row  row of the version
-- Columns: dish, version, effective_from, portions, batch_weight_g, group, minutes, made_per_month,
--          target, minutes_waiting, energy_kwh, pots; ingredient (or dish:NAME), quantity, unit, state, yield_pct, pantry, note.
-- Order: as printed.
SELECT v.dish, v.version, v.effective_from, v.portions, v.batch_weight_g, v.dish_group AS "group",
       v.minutes, v.made_per_month, v.target, v.minutes_waiting, v.energy_kwh, v.pots,
       coalesce(i.name, 'dish:' || s.name) AS ingredient,
       l.quantity, l.unit, l.state, l.yield_pct, l.pantry, l.note
FROM dish_version_now v
JOIN dish_line l ON l.version_row = v.row_id
LEFT JOIN ingredient i ON i.ingredient_id = l.ingredient_id
LEFT JOIN dish s ON s.dish_id = l.sub_dish_id
WHERE v.row_id = $version_row
ORDER BY l.position
