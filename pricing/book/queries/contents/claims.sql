-- Published figures in force.
-- Columns: dish, version, published_on, cost_per_portion (currency per portion), currency,
--          published_where, note. Order: dish, published_on, then as entered.
SELECT d.name AS dish, c.version, c.published_on, c.cost_per_portion::DOUBLE AS cost_per_portion,
       c.currency, c.published_where, c.note
FROM claim_now c JOIN dish d USING (dish_id)
ORDER BY d.name_key, c.published_on, c.row_id
