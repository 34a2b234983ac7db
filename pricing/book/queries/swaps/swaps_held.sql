-- Every swap in force with what turns its amounts into each other.
-- Columns: row; ingredient_id, ingredient; substitute_id (NULL: a dish or nothing), substitute_dish_id,
--          substitute (its name; NULL: left out); ratio (as purchased: base units of the substitute, g
--          of a dish, per base unit of the ingredient), stated_ratio, ratio_state; note; supplier,
--          product, pack and how the pack was read; works_in, not_in, not_with, only_with, disturbance
--          (NULL: none stated); base and grams (per base unit; NULL: not known) of both.
-- Order: by ingredient, substitute, supplier, product, pack.
SELECT w.row_id AS row, w.ingredient_id, i.name AS ingredient, w.substitute_id, w.substitute_dish_id,
       coalesce(s.name, 'dish:' || d.name) AS substitute,
       w.ratio::DOUBLE * CASE WHEN w.ratio_state = 'edible'
                              THEN i.yield_pct::DOUBLE / coalesce(s.yield_pct, 100)::DOUBLE
                              ELSE 1 END AS ratio,
       w.ratio::DOUBLE AS stated_ratio, w.ratio_state, w.note,
       w.supplier, w.product, w.pack, w.pack_amount, w.pack_dimension, w.pack_measure_key,
       w.works_in, w.not_in, w.not_with, w.only_with, w.disturbance::DOUBLE AS disturbance,
       i.base,
       CASE i.base WHEN 'g' THEN 1 WHEN 'ml' THEN i.density_g_per_ml ELSE i.grams_each END::DOUBLE
       AS grams,
       CASE WHEN w.substitute_dish_id IS NOT NULL THEN 'g' ELSE s.base END AS substitute_base,
       CASE WHEN w.substitute_dish_id IS NOT NULL THEN 1
            ELSE CASE s.base WHEN 'g' THEN 1 WHEN 'ml' THEN s.density_g_per_ml ELSE s.grams_each END
       END::DOUBLE AS substitute_grams
FROM swap_now w
JOIN ingredient_now i ON i.ingredient_id = w.ingredient_id
LEFT JOIN ingredient_now s ON s.ingredient_id = w.substitute_id
LEFT JOIN dish d ON d.dish_id = w.substitute_dish_id
ORDER BY i.name_key, s.name_key NULLS LAST, d.name_key NULLS LAST, w.supplier_key, w.product_key,
         w.pack_amount NULLS FIRST, w.pack_dimension, w.pack_measure_key
