-- What each case of held_out may still see: the latest price of every source up to d0, and what was
-- seen on d1. A case stands for an ingredient of its own, and so do its sources.
-- Reads: held_out(case_id, ingredient_id, market, d0, d1)   Parameter: $currency
-- Columns: ingredient_id (of the case), market, source_id, observed_on, unit_price. No order.
WITH source_of AS (
    SELECT h.case_id, h.market, h.d0, h.d1, s.source_id
    FROM held_out h JOIN source s
      ON s.ingredient_id = h.ingredient_id AND s.market = h.market AND s.currency = $currency
)
SELECT c.case_id AS ingredient_id, c.market, c.case_id * 1000000 + c.source_id AS source_id,
       d.observed_on, d.unit_price
FROM source_of c ASOF JOIN source_day d ON c.source_id = d.source_id AND c.d0 >= d.observed_on
UNION ALL
SELECT c.case_id, c.market, c.case_id * 1000000 + c.source_id, d.observed_on, d.unit_price
FROM source_of c JOIN source_day d ON c.source_id = d.source_id AND c.d1 = d.observed_on
