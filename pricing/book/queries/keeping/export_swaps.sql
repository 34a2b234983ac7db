-- Every swap in force, in the words of a swaps file.
-- The columns stored_… say how the pack was read (stored_for is NULL without one); they are not part
-- of the file.
-- Order: by ingredient, then by substitute, supplier, product and pack.
SELECT i.name AS ingredient, coalesce(s.name, 'dish:' || d.name, 'leave out') AS substitute,
       w.ratio, w.note, w.ratio_state, w.supplier, w.product, w.pack,
       array_to_string(w.works_in, '; ') AS works_in, array_to_string(w.not_in, '; ') AS not_in,
       array_to_string(w.not_with, '; ') AS not_with,
       array_to_string(w.only_with, '; ') AS only_with, w.disturbance,
       CASE WHEN w.pack IS NOT NULL THEN w.substitute_id END AS stored_for,
       w.pack_amount AS stored_amount, w.pack_dimension AS stored_dimension,
       w.pack_measure_key AS stored_measure
FROM swap_now w
JOIN ingredient_now i ON i.ingredient_id = w.ingredient_id
LEFT JOIN ingredient_now s ON s.ingredient_id = w.substitute_id
LEFT JOIN dish d ON d.dish_id = w.substitute_dish_id
ORDER BY i.name_key, s.name_key NULLS LAST, d.name_key NULLS LAST, w.supplier_key, w.product_key,
         w.pack_amount NULLS FIRST, w.pack_dimension, w.pack_measure_key
