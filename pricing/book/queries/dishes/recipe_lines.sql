-- Lines of dish versions, each turned into what must be bought.
-- Parameters: $versions  list of dish_version row ids, or NULL for all
-- Columns: version_row, position, ingredient_id, ingredient (name), sub_dish_id, sub_dish (name),
--          quantity, unit (as written), amount, dimension (of a sub-recipe line: portion, batch, g),
--          state, pantry, base, as_purchased (in the base unit, per batch; NULL for a sub-recipe, or
--          where a fact is missing), trim (bought per unit needed: 1, or of an edible amount 1 / its
--          yield, the line's, else the ingredient's; NULL where that is missing).
-- Order: version_row, position.
SELECT l.version_row, l.position, l.ingredient_id, i.name AS ingredient,
       l.sub_dish_id, d.name AS sub_dish, l.quantity, l.unit, l.amount::DOUBLE AS amount, l.dimension,
       l.state, l.pantry, i.base,
       in_base(l.amount, l.dimension, m.grams, i.base, i.density_g_per_ml, i.grams_each)
       / CASE WHEN l.state = 'edible' THEN coalesce(l.yield_pct, i.yield_pct)::DOUBLE / 100 ELSE 1 END
       AS as_purchased,
       CASE WHEN l.state = 'edible' THEN 100 / coalesce(l.yield_pct, i.yield_pct)::DOUBLE ELSE 1 END
       AS trim
FROM dish_line l
LEFT JOIN ingredient_now i ON i.ingredient_id = l.ingredient_id
LEFT JOIN measure_now m ON m.ingredient_id = l.ingredient_id AND m.measure_key = l.measure_key
LEFT JOIN dish d ON d.dish_id = l.sub_dish_id
WHERE $versions::BIGINT[] IS NULL OR l.version_row IN (SELECT unnest($versions::BIGINT[]))
ORDER BY l.version_row, l.position
