-- What several questions share: what a price comes to for a g, ml or each, and what a recipe line
-- comes to as purchased.

CREATE VIEW observation_priced AS           -- observations in force, of ingredients in force
SELECT o.*, i.name AS ingredient, i.name_key AS ingredient_key, i.base,
       o.price::DOUBLE * (1 + coalesce(o.tax_pct, 0)::DOUBLE / 100)
           AS paid,                         -- for the whole pack, with tax_pct, if given
       in_base(o.pack_amount, o.pack_dimension, m.grams, i.base, i.density_g_per_ml, i.grams_each)
           AS size,                         -- of the pack, in base; NULL = a fact is missing
       paid / size AS unit_price            -- currency per g, ml or each, as purchased
FROM observation_now o
JOIN ingredient_now i USING (ingredient_id)
LEFT JOIN measure_now m
       ON m.ingredient_id = o.ingredient_id AND m.measure_key = o.pack_measure_key;

CREATE VIEW dish_line_bought AS             -- recipe lines, each turned into what must be bought
SELECT l.*, i.name AS ingredient, i.base, i.allergens,
       CASE WHEN l.state = 'edible' THEN coalesce(l.yield_pct, i.yield_pct)::DOUBLE ELSE 100 END
           AS used_pct,                     -- of what is bought; NULL = a yield is missing
       in_base(l.amount, l.dimension, m.grams, i.base, i.density_g_per_ml, i.grams_each)
           / (used_pct / 100)
           AS as_purchased,                 -- in base, per batch; NULL for a sub-recipe, too
       100 / used_pct AS trim               -- bought per unit needed
FROM dish_line l
LEFT JOIN ingredient_now i ON i.ingredient_id = l.ingredient_id
LEFT JOIN measure_now m ON m.ingredient_id = l.ingredient_id AND m.measure_key = l.measure_key;
