-- Stream-day prices that are not what the observations say. Compares fresh_day (book/stream_day.sql, as
-- asked just before) with what is kept; a price must agree to the last bit.
-- Columns: missing, left_over (rows, of any ingredient). One row.
WITH derived AS (
    SELECT f.ingredient_id, s.stream_id, f.observed_on, f.unit_price
    FROM fresh_day f LEFT JOIN stream s USING (ingredient_id, currency, supplier_key, product_key)
),
kept AS (
    SELECT ingredient_id, stream_id, observed_on, unit_price FROM stream_day
)
SELECT (SELECT count(*) FROM (FROM derived EXCEPT ALL FROM kept)) AS missing,
       (SELECT count(*) FROM (FROM kept EXCEPT ALL FROM derived)) AS left_over
