-- The book's own days of news, held out one at a time. Where the day before lies so near that its price
-- would count as seen, the day gives one case; where it lies further back, so that the price would be
-- moved, one from the day before alone, and one from both sides where there is a later day.
-- Parameters: $currency, $market (asked for; an ingredient not seen there counts in the other),
--             $fresh_days, $moved_all (true: a food series moves what has none of its own), $most (days
--             of either sort; the latest count)
-- Columns: case_id, ingredient_id, market, on_date (held out), d0, d1 (NULL: from d0 alone), truth
--          (typical price of that day). Order: case_id.
WITH counted AS (
    SELECT ingredient_id, arg_min(market, CASE WHEN market = $market THEN 0
                                               WHEN market <> 'any' THEN 1 ELSE 2 END) AS market
    FROM source
    WHERE currency = $currency
      AND ($moved_all OR ingredient_id IN (SELECT ingredient_id FROM ingredient_now
                                           WHERE series IS NOT NULL))
    GROUP BY ingredient_id
),
beside AS (
    SELECT t.ingredient_id, t.market, t.observed_on, t.unit_price AS price,
           lag(t.observed_on) OVER (PARTITION BY t.ingredient_id ORDER BY t.observed_on) AS d0,
           t.next_on AS d1
    FROM typical_day t JOIN counted c USING (ingredient_id, market)
    WHERE t.currency = $currency
),
held AS (
    SELECT *, observed_on - d0 <= $fresh_days AS fresh FROM beside WHERE d0 IS NOT NULL
    QUALIFY row_number() OVER (PARTITION BY fresh ORDER BY observed_on DESC, ingredient_id) <= $most
)
SELECT row_number() OVER (ORDER BY ingredient_id, observed_on, d1 NULLS FIRST) AS case_id,
       ingredient_id, market, observed_on AS on_date, d0, d1, price AS truth
FROM (SELECT * REPLACE (NULL::DATE AS d1) FROM held
      UNION ALL
      FROM held WHERE d1 IS NOT NULL AND NOT fresh)
ORDER BY case_id
