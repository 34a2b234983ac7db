-- Which packs of some ingredients could be bought in a time: those of eligible observations, one row
-- for each supplier, product and size that was seen in it, at the price of the last day it was seen
-- (of several on that day, their median, as queries/book/source_day.sql has it).
--
-- Parameters: $ingredients (names), $firsts, $lasts (the first and the last day of the time),
--                        $markets (whose prices count: shop, trade or any): parallel lists, an
--                        ingredient once
--             $currency
--             $supplier  supplier key to keep, or NULL for all
--             $without   supplier keys to leave out
--             $offers    true to let offers count
-- Columns: ingredient, supplier, product (NULL = blank), pack (as written), size (in the ingredient's
--          base unit), seen_on, price (of the whole pack, with tax).
-- Order: ingredient as compared, newest first, then supplier, product and size.
WITH wanted AS (
    SELECT unnest($ingredients::VARCHAR[]) AS name, unnest($firsts::DATE[]) AS time_from,
           unnest($lasts::DATE[]) AS time_to, unnest($markets::VARCHAR[]) AS market
),
seen AS (                                   -- what was seen after the time is not looked at
    SELECT o.ingredient_id, w.name, o.ingredient_key AS name_key, w.time_from, o.supplier_key,
           o.product_key, o.observed_on, o.row_id, o.supplier, o.product, o.pack, o.paid AS price,
           o.size
    FROM wanted w
    JOIN observation_priced o ON o.ingredient = w.name AND o.observed_on <= w.time_to
    WHERE o.currency = $currency AND ($offers::BOOLEAN OR o.kind <> 'offer')
      AND ($supplier::VARCHAR IS NULL OR o.supplier_key = $supplier)
      AND NOT list_contains($without::VARCHAR[], o.supplier_key)
      AND (w.market = 'any' OR market_of(o.kind) = w.market)
),
day_of_size AS (                            -- a size to the sixth digit: 1 lb is 453.59237 g or 16 oz
    SELECT ingredient_id, name, name_key, time_from, supplier_key, product_key,
           round(size, 6) AS size_key, observed_on, median(price) AS price, median(size) AS size,
           arg_min(pack, row_id) AS pack, arg_min(supplier, row_id) AS supplier,
           arg_min(product, row_id) AS product
    FROM seen
    WHERE size IS NOT NULL
    GROUP BY ALL
),
span AS (                                   -- from the first to the last day of a size
    SELECT ingredient_id, name, name_key, time_from, supplier_key, product_key, size_key,
           min(observed_on) AS first_on, max(observed_on) AS last_on,
           arg_max(price, observed_on) AS price, arg_max(size, observed_on) AS size,
           arg_max(pack, observed_on) AS pack, arg_max(supplier, observed_on) AS supplier,
           arg_max(product, observed_on) AS product
    FROM day_of_size
    GROUP BY ALL
),
neighbours AS (
    SELECT *,
           lead(first_on) OVER w AS next_from,
           max(last_on) OVER (w ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING) AS others_up_to
    FROM span
    WINDOW w AS (PARTITION BY ingredient_id, supplier_key, product_key ORDER BY first_on, size_key)
)
SELECT name AS ingredient, supplier, product, pack, size, last_on AS seen_on, price
FROM neighbours
WHERE last_on >= time_from
  -- A named product that changed its pack for good (as queries/prices/packs_changed.sql tells) is not to be
  -- had in the old one any more.
  AND NOT (product_key <> '' AND coalesce(last_on < next_from, false)
           AND coalesce(others_up_to < first_on, true))
ORDER BY name_key, last_on DESC, supplier_key, product_key, size
