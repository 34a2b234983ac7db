-- The last price seen of ingredients up to a day, each in one market. Offers do not count.
-- Parameters: $ingredients, $markets (parallel lists: ingredient id; shop, trade or any), $currency, $on
-- Columns: ingredient_id, supplier, product, price (of the pack, without tax_pct), tax_pct, pack (as
--          written), kind, region, seen_on. Of two of one day the later in the book. No order.
WITH wanted AS (
    SELECT unnest($ingredients::INTEGER[]) AS ingredient_id, unnest($markets::VARCHAR[]) AS market
)
SELECT o.ingredient_id, o.supplier, o.product, o.price, o.tax_pct, o.pack, o.kind, o.region,
       o.observed_on AS seen_on
FROM observation_priced o JOIN wanted w USING (ingredient_id)
WHERE o.currency = $currency AND o.kind <> 'offer' AND o.observed_on <= $on
  AND (w.market = 'any' OR (o.kind IN ('invoice', 'quote')) = (w.market = 'trade'))
QUALIFY row_number() OVER (PARTITION BY o.ingredient_id
                           ORDER BY o.observed_on DESC, o.row_id DESC) = 1
