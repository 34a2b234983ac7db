-- What each stream cost on each asked day, where it had been seen within the fresh limit.
-- Reads asked, eligible_stream and eligible_day (made by pricing/prices/rule.py).
-- Parameters: $fresh_days
-- Columns: ingredient_id, stream_id, on_date, unit_price (currency per g, ml or each).
-- Order: ingredient_id, stream_id, on_date.
SELECT p.ingredient_id, p.stream_id, p.on_date, e.unit_price
FROM (SELECT a.ingredient_id, a.on_date, s.stream_id
      FROM asked a JOIN eligible_stream s USING (ingredient_id)) p
ASOF JOIN eligible_day e ON p.stream_id = e.stream_id AND p.on_date >= e.observed_on
WHERE p.on_date - e.observed_on <= $fresh_days
ORDER BY p.ingredient_id, p.stream_id, p.on_date
