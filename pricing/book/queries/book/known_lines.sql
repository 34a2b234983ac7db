-- The lines of the dish versions in force, as printed; amount in `dimension`.
-- Parameter: $dishes  list of dish ids, or NULL for all.
-- Order: by version, then as printed.
SELECT l.version_row, l.ingredient_id, l.sub_dish_id, l.amount, l.dimension, l.measure_key, l.state,
       l.yield_pct, l.pantry, l.note
FROM dish_line l JOIN dish_version_now v ON v.row_id = l.version_row
WHERE $dishes::INTEGER[] IS NULL OR v.dish_id IN (SELECT unnest($dishes::INTEGER[]))
ORDER BY l.version_row, l.position
