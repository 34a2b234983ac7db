-- Every ingredient in force, with its facts. Order: as first written in the book.
SELECT ingredient_id, name, name_key, category, base, density_g_per_ml, grams_each, yield_pct, series,
       allergens, aliases
FROM ingredient_now
ORDER BY ingredient_id
