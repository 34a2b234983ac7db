-- What ingredients are called and which official series they name; what waits has a name alone.
-- Parameters: $ingredients  list of ids
-- Columns: ingredient_id, name, category (NULL = none), base (NULL = it waits), series (NULL = none), title (of the
--          series). Order: ingredient_id.
SELECT n.ingredient_id, n.name, i.category, i.base, i.series, s.title
FROM ingredient n
LEFT JOIN ingredient_now i ON i.ingredient_id = n.ingredient_id
LEFT JOIN series_now s ON s.series = i.series
WHERE n.ingredient_id IN (SELECT unnest($ingredients::INTEGER[]))
ORDER BY n.ingredient_id
