-- Lines of dish versions as bare numbers, for costing many dishes at once (dishes/recipe_lines.sql says what
-- they mean in words).
-- Parameters: $versions  list of dish_version row ids, or NULL for all
-- Columns: version_row; ingredient_id, sub_dish_id (one of them is 0); as_purchased (of an ingredient,
--          in its base unit, per batch; NaN where a fact is missing); amount (of another dish) in
--          portions (in_portions), in batches (in_batches), else in g. No order.
SELECT version_row, coalesce(ingredient_id, 0) AS ingredient_id,
       coalesce(sub_dish_id, 0) AS sub_dish_id, coalesce(as_purchased, 'nan'::DOUBLE) AS as_purchased,
       amount::DOUBLE AS amount, dimension = 'portion' AS in_portions, dimension = 'batch' AS in_batches
FROM dish_line_bought
WHERE $versions::BIGINT[] IS NULL OR version_row IN (SELECT unnest($versions::BIGINT[]))
