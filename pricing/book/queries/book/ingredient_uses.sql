-- What in force uses some ingredients, grouped by what it needs of their facts.
--
-- Parameter: $ingredients  list of ingredient ids.
-- Columns: ingredient_id; kind of the batches; dimension and measure_key of the amount (NULL: the use
--          has no amount); needs_yield (an edible line without a yield of its own); batches, a list
--          of batch numbers, ascending. Order: by ingredient and kind.
WITH asked AS (SELECT unnest($ingredients::INTEGER[]) AS ingredient_id),
used AS (
    SELECT ingredient_id, 'prices' AS kind, pack_dimension AS dimension,
           pack_measure_key AS measure_key, FALSE AS needs_yield, batch
    FROM observation_now SEMI JOIN asked USING (ingredient_id)
    UNION ALL
    SELECT l.ingredient_id, 'dishes', l.dimension, l.measure_key,
           l.state = 'edible' AND l.yield_pct IS NULL, l.batch
    FROM dish_line l JOIN dish_version_now v ON v.row_id = l.version_row
    SEMI JOIN asked a ON a.ingredient_id = l.ingredient_id
    UNION ALL
    SELECT ingredient_id, 'measures', NULL, NULL, FALSE, batch
    FROM measure_now SEMI JOIN asked USING (ingredient_id)
    UNION ALL
    SELECT ingredient_id, 'swaps', NULL, NULL, ratio_state = 'edible', batch
    FROM swap_now SEMI JOIN asked USING (ingredient_id)
    UNION ALL
    -- an edible ratio needs the yields of both; a pack must turn into the substitute's base unit
    SELECT substitute_id, 'swaps', pack_dimension, pack_measure_key, ratio_state = 'edible', batch
    FROM swap_now SEMI JOIN asked ON asked.ingredient_id = substitute_id
)
SELECT ingredient_id, kind, dimension, measure_key, needs_yield,
       list(DISTINCT batch ORDER BY batch) AS batches
FROM used
GROUP BY ingredient_id, kind, dimension, measure_key, needs_yield
ORDER BY ingredient_id, kind, dimension, measure_key, needs_yield
