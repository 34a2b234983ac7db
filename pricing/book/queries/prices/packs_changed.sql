-- Products whose pack changed for good: the same product at the same supplier, seen in one size up to
-- a day and in another from a later day on. A size seen while another was about, or again after the
-- change, is a second size on the shelf, not a change. Only products with a name; offers do not count.
-- A shop may write the size into the name: names of one shop that differ in the size alone are one
-- product. Goods weighed at the till, whose packs are hardly ever alike, have no pack to change.
-- Parameters: $ingredients  list of ids, or NULL for all
--             $currency
--             $first, $last  the new size was first seen after $first and on or before $last
-- Columns: ingredient_id, ingredient, base, supplier, product; before_on, pack_before (as written),
--          size_before (in base), price_before (of the pack, with tax); after_on, pack_after,
--          size_after, price_after. Prices: medians of the last day of the one and the first of the
--          other. Order: after_on, ingredient as compared, supplier, product.
WITH seen AS (
    SELECT ingredient_id, supplier_key, observed_on, row_id, supplier, product, pack, paid AS price, size,
           trim(regexp_replace(product_key,
               '[0-9]+([.,][0-9]+)?[ -]?(fl\.? ?oz|kg|mg|g|oz|lbs?|cl|ml|litres?|liters?|l|ct|count|pcs?|pack)\b',
               ' ', 'g')) AS product_words
    FROM observation_priced
    WHERE product_key <> '' AND kind <> 'offer' AND currency = $currency
      AND ($ingredients::INTEGER[] IS NULL
           OR ingredient_id IN (SELECT unnest($ingredients::INTEGER[])))
),
day_of_size AS (                            -- a size to the sixth digit: 1 lb is 453.59237 g or 16 oz
    SELECT ingredient_id, supplier_key, regexp_replace(product_words, ' +', ' ', 'g') AS product_key,
           round(size, 6) AS size, observed_on,
           median(price) AS price, arg_min(pack, row_id) AS pack,
           arg_min(supplier, row_id) AS supplier, arg_min(product, row_id) AS product
    FROM seen
    WHERE size IS NOT NULL
    GROUP BY ALL
),
weighed AS (
    SELECT ingredient_id, supplier_key, product_key FROM day_of_size
    GROUP BY ALL
    HAVING count(DISTINCT size) > 2 AND 5 * count(DISTINCT size) > 4 * count(*)
),
span AS (                                   -- from the first to the last day of a size
    SELECT ingredient_id, supplier_key, product_key, size,
           min(observed_on) AS first_on, max(observed_on) AS last_on,
           arg_min(price, observed_on) AS first_price, arg_max(price, observed_on) AS last_price,
           arg_min(pack, observed_on) AS first_pack, arg_max(pack, observed_on) AS last_pack,
           arg_min(supplier, observed_on) AS supplier, arg_min(product, observed_on) AS product
    FROM day_of_size ANTI JOIN weighed USING (ingredient_id, supplier_key, product_key)
    GROUP BY ingredient_id, supplier_key, product_key, size
),
next_span AS (
    SELECT *,
           lead(size) OVER w AS size_after, lead(first_on) OVER w AS after_on,
           lead(first_price) OVER w AS price_after, lead(first_pack) OVER w AS pack_after,
           max(last_on) OVER (w ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING) AS others_up_to
    FROM span
    WINDOW w AS (PARTITION BY ingredient_id, supplier_key, product_key ORDER BY first_on, size)
)
SELECT n.ingredient_id, i.name AS ingredient, i.base, n.supplier, n.product,
       n.last_on AS before_on, n.last_pack AS pack_before, n.size AS size_before,
       n.last_price AS price_before,
       n.after_on, n.pack_after, n.size_after, n.price_after
FROM next_span n JOIN ingredient_now i USING (ingredient_id)
WHERE n.last_on < n.after_on AND coalesce(n.others_up_to < n.first_on, true)
  AND n.after_on > $first AND n.after_on <= $last
ORDER BY n.after_on, i.name_key, n.supplier_key, n.product_key
