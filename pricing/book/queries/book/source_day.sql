-- The price of a source on a day it was seen: the median of its unit prices of that day.
-- A source is one supplier and product of one ingredient in one currency and market (supplier and
-- product may be blank). Where an ingredient is seen in both markets there are sources of the market
-- `any`, too, which hold both as one.
--
-- Parameters: $ingredients  list of ingredient ids, or NULL for all
--             $since        days before it are left out; then what the book keeps of them says in which
--                           markets an ingredient was seen. NULL for all days
--             $region       region key to keep, or NULL for all
--             $offers       true to let offers count
--             $pack_amount, $pack_dimension, $pack_measure_key   a pack to keep, or NULL for all
-- Columns: ingredient_id, currency, market, supplier_key, product_key, observed_on,
--          unit_price (currency per g, ml or each), first_row (the earliest row of the day). No order.
WITH eligible AS (
    SELECT ingredient_id, currency, market_of(kind) AS market, supplier_key, product_key, observed_on,
           unit_price, row_id
    FROM observation_priced
    WHERE unit_price IS NOT NULL
      AND ($since::DATE IS NULL OR observed_on >= $since)
      AND ($ingredients::INTEGER[] IS NULL
           OR ingredient_id IN (SELECT unnest($ingredients::INTEGER[])))
      AND ($region::VARCHAR IS NULL OR region_key = $region)
      AND ($offers::BOOLEAN OR kind <> 'offer')
      AND ($pack_amount::DECIMAL(28, 12) IS NULL
           OR (pack_amount = $pack_amount::DECIMAL(28, 12)
               AND pack_dimension = $pack_dimension::VARCHAR
               AND pack_measure_key IS NOT DISTINCT FROM $pack_measure_key::VARCHAR))
),
in_both AS (
    SELECT ingredient_id, currency
    FROM (SELECT ingredient_id, currency, market FROM eligible
          UNION ALL
          SELECT ingredient_id, currency, market FROM typical_day
          WHERE $since::DATE IS NOT NULL AND market <> 'any'
            AND ingredient_id IN (SELECT unnest($ingredients::INTEGER[])))
    GROUP BY ALL HAVING count(DISTINCT market) = 2
)
SELECT ingredient_id, currency, market, supplier_key, product_key, observed_on,
       median(unit_price) AS unit_price, min(row_id) AS first_row
FROM (FROM eligible
      UNION ALL
      SELECT e.* REPLACE ('any' AS market)
      FROM eligible e SEMI JOIN in_both USING (ingredient_id, currency))
GROUP BY ingredient_id, currency, market, supplier_key, product_key, observed_on
