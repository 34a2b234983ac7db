-- Kept prices that are not what the observations and the official series say. Compares fresh_day (the
-- rows of book/source_day.sql) and fresh_typical (typical_day derived anew) with what is kept; a price
-- must agree to the last bit.
-- Columns: missing, left_over (rows, of any ingredient). One row.
WITH derived AS (
    SELECT f.ingredient_id, s.source_id, f.observed_on, f.unit_price
    FROM fresh_day f LEFT JOIN source s USING (ingredient_id, currency, market, supplier_key, product_key)
),
kept AS (
    SELECT ingredient_id, source_id, observed_on, unit_price FROM source_day
),
difference AS (
    SELECT (SELECT count(*) FROM (FROM derived EXCEPT ALL FROM kept)) AS missing,
           (SELECT count(*) FROM (FROM kept EXCEPT ALL FROM derived)) AS left_over
    UNION ALL
    SELECT (SELECT count(*) FROM (FROM fresh_typical EXCEPT ALL FROM typical_day)),
           (SELECT count(*) FROM (FROM typical_day EXCEPT ALL FROM fresh_typical))
)
SELECT sum(missing), sum(left_over) FROM difference
