-- Printed figures in force.
-- Columns: dish, version, published_on, costed_on, cost_per_portion (currency per portion), as_printed,
--          currency, published_where, note. Order: dish, published_on, then as entered.
SELECT d.name AS dish, p.version, p.published_on, p.costed_on,
       p.cost_per_portion::DOUBLE AS cost_per_portion, p.as_printed, p.currency, p.published_where,
       p.note
FROM printed_now p JOIN dish d USING (dish_id)
ORDER BY d.name_key, p.published_on, p.row_id
