-- The stream-days that each case of held_out may still see: those up to d0 that are fresh on it, and
-- those of d1. A case stands for an ingredient of its own, and so do its streams.
-- Reads: held_out(case_id, ingredient_id, d0, d1)   Parameters: $currency, $fresh_days
-- Columns: ingredient_id (of the case), stream_id, observed_on, unit_price. No order.
SELECT h.case_id AS ingredient_id, h.case_id * 1000000 + d.stream_id AS stream_id, d.observed_on,
       d.unit_price
FROM held_out h
JOIN stream s ON s.ingredient_id = h.ingredient_id AND s.currency = $currency
JOIN stream_day d ON d.stream_id = s.stream_id
 AND (d.observed_on BETWEEN h.d0 - $fresh_days::INTEGER AND h.d0 OR d.observed_on = h.d1)
