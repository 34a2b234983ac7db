-- The price of a stream on a day it was seen: the median of its unit prices of that day.
-- A stream is one supplier and product of one ingredient in one currency (either may be blank).
-- Unit price = price (plus tax_pct, if given) / pack in the ingredient's base unit, as purchased.
--
-- Parameters: $ingredients  list of ingredient ids, or NULL for all
--             $region       region key to keep, or NULL for all
--             $offers       true to let offers count
--             $pack_amount, $pack_dimension, $pack_measure_key   a pack to keep, or NULL for all
-- Columns: ingredient_id, currency, supplier_key, product_key, observed_on,
--          unit_price (currency per g, ml or each). No order.
WITH unit_prices AS (
    SELECT o.ingredient_id, o.currency, o.supplier_key, o.product_key, o.observed_on,
           o.price::DOUBLE * (1 + coalesce(o.tax_pct, 0)::DOUBLE / 100)
           / in_base(o.pack_amount, o.pack_dimension, m.grams, i.base, i.density_g_per_ml, i.grams_each)
           AS unit_price
    FROM observation_now o
    JOIN ingredient_now i USING (ingredient_id)
    LEFT JOIN measure_now m
           ON m.ingredient_id = o.ingredient_id AND m.measure_key = o.pack_measure_key
    WHERE ($ingredients::INTEGER[] IS NULL OR o.ingredient_id IN (SELECT unnest($ingredients::INTEGER[])))
      AND ($region::VARCHAR IS NULL OR o.region_key = $region)
      AND ($offers::BOOLEAN OR o.kind <> 'offer')
      AND ($pack_amount::DECIMAL(28, 12) IS NULL
           OR (o.pack_amount = $pack_amount::DECIMAL(28, 12)
               AND o.pack_dimension = $pack_dimension::VARCHAR
               AND o.pack_measure_key IS NOT DISTINCT FROM $pack_measure_key::VARCHAR))
)
SELECT ingredient_id, currency, supplier_key, product_key, observed_on,
       median(unit_price) AS unit_price
FROM unit_prices
WHERE unit_price IS NOT NULL
GROUP BY ALL
