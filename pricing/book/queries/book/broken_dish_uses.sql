-- Rows in force that name a dish or version which is no longer in force, or which take a dish by the
-- weight of a batch that no version of it states.
--
-- Columns: dish (the one that is missed), kind and batch of the row that misses it.
-- Order: by dish, batch.
WITH there AS (
    SELECT dish_id, count(batch_weight_g) AS weighed FROM dish_version_now GROUP BY dish_id
)
SELECT DISTINCT d.name AS dish, 'dishes' AS kind, l.batch
FROM dish_line l
JOIN dish_version_now v ON v.row_id = l.version_row
JOIN dish d ON d.dish_id = l.sub_dish_id
LEFT JOIN there t ON t.dish_id = l.sub_dish_id
WHERE t.dish_id IS NULL OR (l.dimension = 'g' AND t.weighed = 0)
UNION
SELECT d.name, 'swaps', w.batch
FROM swap_now w
JOIN dish d ON d.dish_id = w.substitute_dish_id
LEFT JOIN there t ON t.dish_id = w.substitute_dish_id
WHERE t.dish_id IS NULL OR t.weighed = 0
UNION
SELECT d.name, 'printed', p.batch
FROM printed_now p
JOIN dish d USING (dish_id)
ANTI JOIN dish_version_now v ON v.dish_id = p.dish_id AND v.version = p.version
ORDER BY dish, batch
