-- The price of a stream on a day it was seen: the median of its unit prices of that day.
-- A stream is one supplier and product of one ingredient in one currency (either may be blank).
--
-- Parameters: $ingredients  list of ingredient ids, or NULL for all
--             $region       region key to keep, or NULL for all
--             $offers       true to let offers count
--             $pack_amount, $pack_dimension, $pack_measure_key   a pack to keep, or NULL for all
-- Columns: ingredient_id, currency, supplier_key, product_key, observed_on,
--          unit_price (currency per g, ml or each). No order.
SELECT ingredient_id, currency, supplier_key, product_key, observed_on,
       median(unit_price) AS unit_price
FROM observation_priced
WHERE unit_price IS NOT NULL
  AND ($ingredients::INTEGER[] IS NULL OR ingredient_id IN (SELECT unnest($ingredients::INTEGER[])))
  AND ($region::VARCHAR IS NULL OR region_key = $region)
  AND ($offers::BOOLEAN OR kind <> 'offer')
  AND ($pack_amount::DECIMAL(28, 12) IS NULL
       OR (pack_amount = $pack_amount::DECIMAL(28, 12)
           AND pack_dimension = $pack_dimension::VARCHAR
           AND pack_measure_key IS NOT DISTINCT FROM $pack_measure_key::VARCHAR))
GROUP BY ALL
