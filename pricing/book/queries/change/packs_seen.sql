-- In which pack named products were bought on some days; products seen in two sizes on one day, and
-- those without a name, are left out. Offers do not count.
-- Parameters: $ingredients, $days (parallel lists: ingredient id, day seen), $currency
-- Columns: ingredient_id, supplier_key, product_key, observed_on, size (in the base unit).
-- No order.
WITH wanted AS (
    SELECT DISTINCT unnest($ingredients::INTEGER[]) AS ingredient_id,
                    unnest($days::DATE[]) AS observed_on
)
SELECT o.ingredient_id, o.supplier_key, o.product_key, o.observed_on,
       any_value(o.size) AS size
FROM observation_priced o
SEMI JOIN wanted w ON w.ingredient_id = o.ingredient_id AND w.observed_on = o.observed_on
WHERE o.product_key <> '' AND o.kind <> 'offer' AND o.currency = $currency
GROUP BY o.ingredient_id, o.supplier_key, o.product_key, o.observed_on
HAVING count(DISTINCT round(o.size, 6)) = 1
