-- Lines of dish versions in force that wait for a decision.
-- Columns: version_row, position, dish, version, ingredient (its name: "waiting: WORDS"), quantity,
--          unit (as written), state, yield_pct, note, batch, file. Order: by dish and version, as printed.
SELECT l.version_row, l.position, v.dish, v.version, n.name AS ingredient, l.quantity, l.unit,
       l.state, l.yield_pct, l.note, l.batch, b.file_name AS file
FROM dish_line l
JOIN dish_version_now v ON v.row_id = l.version_row
JOIN ingredient n USING (ingredient_id)
JOIN load_batch b ON b.batch = l.batch
WHERE starts_with(n.name_key, 'waiting:')
ORDER BY v.dish_key, v.effective_from, v.row_id, l.position
