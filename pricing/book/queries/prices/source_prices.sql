-- What each source asked on each asked day, where it had been seen within the fresh limit.
-- Reads asked, eligible_source and eligible_day (made by pricing/prices/rule.py).
-- Parameters: $fresh_days, $market (the one asked for; an ingredient not seen there counts in the other)
-- Columns: ingredient_id, source_id, on_date, unit_price (currency per g, ml or each). No order.
WITH counted AS (
    SELECT ingredient_id, arg_min(market, CASE WHEN market = $market THEN 0
                                               WHEN market <> 'any' THEN 1 ELSE 2 END) AS market
    FROM eligible_source GROUP BY ingredient_id
)
SELECT p.ingredient_id, p.source_id, p.on_date, e.unit_price
FROM (SELECT a.ingredient_id, a.on_date, s.source_id
      FROM asked a JOIN counted c USING (ingredient_id)
      JOIN eligible_source s ON s.ingredient_id = c.ingredient_id AND s.market = coalesce(a.market, c.market)) p
ASOF JOIN eligible_day e ON p.source_id = e.source_id AND p.on_date >= e.observed_on
WHERE p.on_date - e.observed_on <= $fresh_days
