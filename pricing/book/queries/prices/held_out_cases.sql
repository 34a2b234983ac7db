-- The book's own observed days that can be held out one at a time: the day lies further from the one
-- before it than a price counts as fresh, so that without it the price would have been bridged.
-- Each day gives a case from the observation before alone, and one from both sides where there is a
-- later one.
-- Parameters: $currency, $fresh_days, $ingredients (list of ids; NULL = all), $most (cases; the
--             latest days count)
-- Columns: case_id, ingredient_id, on_date (held out), d0, d1 (NULL: from d0 alone), truth (typical
--          price of that day). Order: case_id.
WITH day AS (
    SELECT s.ingredient_id, d.observed_on, median(d.unit_price) AS price
    FROM stream_day d JOIN stream s USING (stream_id)
    WHERE s.currency = $currency
      AND ($ingredients::INTEGER[] IS NULL OR s.ingredient_id IN (SELECT unnest($ingredients::INTEGER[])))
      AND s.ingredient_id IN (SELECT ingredient_id FROM ingredient_now WHERE series IS NOT NULL)
    GROUP BY s.ingredient_id, d.observed_on
),
beside AS (
    SELECT *, lag(observed_on) OVER own AS d0, lead(observed_on) OVER own AS d1
    FROM day WINDOW own AS (PARTITION BY ingredient_id ORDER BY observed_on)
),
held AS (
    SELECT * FROM beside WHERE observed_on - d0 > $fresh_days
    ORDER BY observed_on DESC, ingredient_id LIMIT $most
)
SELECT row_number() OVER (ORDER BY ingredient_id, observed_on, d1 NULLS FIRST) AS case_id,
       ingredient_id, observed_on AS on_date, d0, d1, price AS truth
FROM (SELECT ingredient_id, observed_on, d0, NULL::DATE AS d1, price FROM held
      UNION ALL
      SELECT ingredient_id, observed_on, d0, d1, price FROM held WHERE d1 IS NOT NULL)
ORDER BY case_id
