-- From which day on the typical prices of an ingredient may differ: the first day on which a source
-- asks something else than is kept.
-- Reads fresh_day (the rows of book/source_day.sql).
-- Parameters: $ingredients (ids that fresh_day was asked for, or NULL for all), $since (the first day it
--             was asked for, or NULL for all days), $whole (true: from the first day of all)
-- Columns: ingredient_id, since. No order.
WITH kept AS (
    SELECT d.ingredient_id, currency, market, supplier_key, product_key, d.observed_on, d.unit_price
    FROM source_day d JOIN source USING (source_id)
    WHERE ($since::DATE IS NULL OR d.observed_on >= $since)
      AND ($ingredients::INTEGER[] IS NULL
           OR d.ingredient_id IN (SELECT unnest($ingredients::INTEGER[])))
),
fresh AS (
    SELECT ingredient_id, currency, market, supplier_key, product_key, observed_on, unit_price
    FROM fresh_day
),
changed AS (
    (FROM fresh WHERE $whole) UNION ALL (FROM kept WHERE $whole)
    UNION ALL ((FROM fresh WHERE NOT $whole) EXCEPT (FROM kept WHERE NOT $whole))
    UNION ALL ((FROM kept WHERE NOT $whole) EXCEPT (FROM fresh WHERE NOT $whole))
)
SELECT ingredient_id, min(observed_on) AS since FROM changed GROUP BY ingredient_id
