-- What ingredients are called and which official series they name.
-- Parameters: $ingredients  list of ids
-- Columns: ingredient_id, name, category (NULL = none), base, series (NULL = none), title (of the
--          series). Order: ingredient_id.
SELECT i.ingredient_id, i.name, i.category, i.base, i.series, s.title
FROM ingredient_now i
LEFT JOIN series_now s ON s.series = i.series
WHERE i.ingredient_id IN (SELECT unnest($ingredients::INTEGER[]))
ORDER BY i.ingredient_id
