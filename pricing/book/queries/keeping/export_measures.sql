-- Every measure in force, in the words of a measures file. grams: as purchased.
-- Order: by ingredient, then by measure, both as compared.
SELECT i.name AS ingredient, m.measure, m.grams, m.source
FROM measure_now m JOIN ingredient_now i USING (ingredient_id)
ORDER BY i.name_key, m.measure_key
