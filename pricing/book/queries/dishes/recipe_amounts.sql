-- Lines of dish versions as bare numbers, for costing many dishes at once (dishes/recipe_lines.sql says what
-- they mean in words).
-- Parameters: $versions  list of dish_version row ids, or NULL for all
-- Columns: version_row; ingredient_id, sub_dish_id (one of them is 0); as_purchased (of an ingredient,
--          in its base unit, per batch; NaN where a fact is missing); amount (of another dish) in
--          portions (in_portions), in batches (in_batches), else in g. No order.
SELECT l.version_row, coalesce(l.ingredient_id, 0) AS ingredient_id,
       coalesce(l.sub_dish_id, 0) AS sub_dish_id,
       coalesce(in_base(l.amount, l.dimension, m.grams, i.base, i.density_g_per_ml, i.grams_each)
                / CASE WHEN l.state = 'edible'
                       THEN coalesce(l.yield_pct, i.yield_pct)::DOUBLE / 100 ELSE 1 END,
                'nan'::DOUBLE) AS as_purchased,
       l.amount::DOUBLE AS amount,
       l.dimension = 'portion' AS in_portions, l.dimension = 'batch' AS in_batches
FROM dish_line l
LEFT JOIN ingredient_now i ON i.ingredient_id = l.ingredient_id
LEFT JOIN measure_now m ON m.ingredient_id = l.ingredient_id AND m.measure_key = l.measure_key
WHERE $versions::BIGINT[] IS NULL OR l.version_row IN (SELECT unnest($versions::BIGINT[]))
