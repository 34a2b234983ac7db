-- Ingredients whose older prices one of some series may move: it is on their ladder, or among the last
-- rungs of all.
-- Parameters: $series (list of ids, NULL: any), $since (first day of the month from which they changed,
--             NULL: from the beginning), $food_series (NULL: none)
-- Columns: ingredient_id, since (the day from which typical prices may differ). No order.
WITH RECURSIVE ladder AS (
    SELECT ingredient_id, series, 1 AS rung FROM ingredient_now WHERE series IS NOT NULL
    UNION ALL
    SELECT l.ingredient_id, s.parent, l.rung + 1
    FROM ladder l JOIN series_now s ON s.series = l.series
    WHERE s.parent IS NOT NULL AND l.rung < 20
),
last_rungs AS (
    SELECT $food_series::VARCHAR AS series, 1 AS rung WHERE $food_series::VARCHAR IS NOT NULL
    UNION ALL
    SELECT s.parent, l.rung + 1
    FROM last_rungs l JOIN series_now s ON s.series = l.series
    WHERE s.parent IS NOT NULL AND l.rung < 20
)
SELECT ingredient_id, coalesce($since::DATE, DATE '0001-01-01') AS since
FROM ingredient_now
WHERE $series::VARCHAR[] IS NULL
   OR EXISTS (FROM last_rungs WHERE list_contains($series::VARCHAR[], series))
   OR ingredient_id IN (SELECT ingredient_id FROM ladder
                        WHERE list_contains($series::VARCHAR[], series))
