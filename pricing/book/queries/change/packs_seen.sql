-- In which pack named products were bought on some days; products seen in two sizes on one day, and
-- those without a name, are left out. Offers do not count.
-- Parameters: $ingredients, $days (parallel lists: ingredient id, day seen), $currency
-- Columns: ingredient_id, supplier_key, product_key, observed_on, size (in the base unit).
-- No order.
WITH wanted AS (
    SELECT DISTINCT unnest($ingredients::INTEGER[]) AS ingredient_id,
                    unnest($days::DATE[]) AS observed_on
)
SELECT o.ingredient_id, o.supplier_key, o.product_key, o.observed_on,
       any_value(in_base(o.pack_amount, o.pack_dimension, m.grams, i.base, i.density_g_per_ml,
                         i.grams_each)) AS size
FROM observation_now o
SEMI JOIN wanted w ON w.ingredient_id = o.ingredient_id AND w.observed_on = o.observed_on
JOIN ingredient_now i ON i.ingredient_id = o.ingredient_id
LEFT JOIN measure_now m ON m.ingredient_id = o.ingredient_id AND m.measure_key = o.pack_measure_key
WHERE o.product_key <> '' AND o.kind <> 'offer' AND o.currency = $currency
GROUP BY o.ingredient_id, o.supplier_key, o.product_key, o.observed_on
HAVING count(DISTINCT round(in_base(o.pack_amount, o.pack_dimension, m.grams, i.base,
                                    i.density_g_per_ml, i.grams_each), 6)) = 1
