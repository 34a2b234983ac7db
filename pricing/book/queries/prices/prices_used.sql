-- The observations behind the prices of some sources, as they stand in the book.
-- Parameters: $ingredients (names), $days, $suppliers, $products (keys; '' = blank): parallel lists;
--             $currency
-- Columns: ingredient, observed_on, price (of the pack), currency, pack (as written), tax_pct, kind,
--          supplier, product, region, source, note, file, line, load, unit_price (currency per g, ml
--          or each), base, supplier_key, product_key. Order: ingredient as compared, observed_on, then as entered.
WITH wanted AS (
    SELECT DISTINCT unnest($ingredients::VARCHAR[]) AS name, unnest($days::DATE[]) AS observed_on,
                    unnest($suppliers::VARCHAR[]) AS supplier_key,
                    unnest($products::VARCHAR[]) AS product_key
)
SELECT o.ingredient, o.observed_on, o.price, o.currency, o.pack, o.tax_pct, o.kind,
       o.supplier, o.product, o.region, o.source, o.note, b.file_name AS file, o.line, o.batch AS load,
       o.unit_price, o.base, o.supplier_key, o.product_key
FROM wanted w
JOIN observation_priced o ON o.ingredient = w.name AND o.observed_on = w.observed_on
     AND o.supplier_key = w.supplier_key AND o.product_key = w.product_key
JOIN load_batch b ON b.batch = o.batch
WHERE o.currency = $currency AND o.kind <> 'offer'
ORDER BY o.ingredient_key, o.observed_on, o.row_id
