-- Published figures in force up to a day.
-- Parameters: $on
-- Columns: claim_row, dish_id, dish, version, published_on, claimed (currency per portion), currency,
--          published_where, note, frozen (the evidence of the day it was recorded is kept).
-- Order: dish as compared, published_on, then as entered.
SELECT c.row_id AS claim_row, c.dish_id, d.name AS dish, c.version, c.published_on,
       c.cost_per_portion::DOUBLE AS claimed, c.currency, c.published_where, c.note,
       e.claim_row IS NOT NULL AS frozen
FROM claim_now c
JOIN dish d USING (dish_id)
LEFT JOIN claim_evidence_now e ON e.claim_row = c.row_id
WHERE c.published_on <= $on
ORDER BY d.name_key, c.published_on, c.row_id
