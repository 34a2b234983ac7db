-- Printed figures in force that were costed for a day up to $on.
-- Parameters: $on
-- Columns: figure_row, dish_id, dish, version, published_on, costed_on, printed (currency per portion),
--          as_printed (words; NULL: the number alone), currency, published_where, note,
--          frozen (the evidence of the day it was recorded is kept), superseded_by (the first day up to
--          $on on which a later figure of the dish in that currency was published; NULL = in force).
-- Order: dish as compared, published_on, then as entered.
SELECT p.row_id AS figure_row, p.dish_id, d.name AS dish, p.version, p.published_on, p.costed_on,
       p.cost_per_portion::DOUBLE AS printed, p.as_printed, p.currency, p.published_where, p.note,
       e.figure_row IS NOT NULL AS frozen,
       (SELECT min(l.published_on) FROM printed_now l
        WHERE l.dish_id = p.dish_id AND l.currency = p.currency
          AND l.published_on > p.published_on AND l.published_on <= $on) AS superseded_by
FROM printed_now p
JOIN dish d USING (dish_id)
LEFT JOIN printed_evidence_now e ON e.figure_row = p.row_id
WHERE p.costed_on <= $on
ORDER BY d.name_key, p.published_on, p.row_id
