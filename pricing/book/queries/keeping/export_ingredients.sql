-- Every ingredient in force, in the words of an ingredients file.
-- Columns: those of an ingredients file. allergens: empty = unknown, 'none' = stated as none.
-- Order: by name as compared.
SELECT name AS ingredient, category, base, density_g_per_ml, grams_each, yield_pct, series,
       CASE WHEN len(allergens) = 0 THEN 'none' ELSE array_to_string(allergens, '; ') END AS allergens,
       array_to_string(aliases, '; ') AS aliases
FROM ingredient_now
ORDER BY name_key
