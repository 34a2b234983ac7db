-- The stream-days that which_price_counts.sql can need for a few days, out of millions: where an
-- ingredient was seen within the fresh limit of a day, only those of that time count; where it was
-- not, each stream's last day up to the asked day, and its first day after it.
-- Reads asked and eligible_day (both made by pricing/prices/rule.py).
-- Parameters: $fresh_days
-- Columns: ingredient_id, stream_id, observed_on, unit_price (currency per g, ml or each). No order.
WITH fresh_time AS (                        -- day by day, so that the join is one of equal values
    SELECT on_date, on_date - unnest(range(0, $fresh_days + 1))::INTEGER AS observed_on
    FROM (SELECT DISTINCT on_date FROM asked)
),
fresh AS MATERIALIZED (
    SELECT e.ingredient_id, e.stream_id, e.observed_on, e.unit_price, t.on_date
    FROM eligible_day e JOIN fresh_time t USING (observed_on)
),
unfresh AS MATERIALIZED (
    SELECT ingredient_id, on_date FROM asked
    ANTI JOIN fresh USING (ingredient_id, on_date)
),
ends AS (
    SELECT e.ingredient_id, e.stream_id, u.on_date,
           max(e.observed_on) FILTER (e.observed_on <= u.on_date) AS last_on,
           arg_max(e.unit_price, e.observed_on) FILTER (e.observed_on <= u.on_date) AS last_price,
           min(e.observed_on) FILTER (e.observed_on > u.on_date) AS next_on,
           arg_min(e.unit_price, e.observed_on) FILTER (e.observed_on > u.on_date) AS next_price
    FROM eligible_day e JOIN unfresh u USING (ingredient_id)
    GROUP BY ALL
)
SELECT DISTINCT ingredient_id, stream_id, observed_on, unit_price
FROM (SELECT ingredient_id, stream_id, observed_on, unit_price FROM fresh
      UNION ALL
      SELECT ingredient_id, stream_id, last_on, last_price FROM ends
      UNION ALL
      SELECT ingredient_id, stream_id, next_on, next_price FROM ends)
WHERE observed_on IS NOT NULL
