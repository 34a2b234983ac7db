-- The observations behind some stream prices, as they stand in the book.
-- Parameters: $ingredients (names), $days, $suppliers, $products (keys; '' = blank): parallel lists;
--             $currency
-- Columns: ingredient, observed_on, price (of the pack), currency, pack (as written), tax_pct, kind,
--          supplier, product, region, source, note, file, line, batch, unit_price (currency per g, ml
--          or each). Order: ingredient as compared, observed_on, then as entered.
WITH wanted AS (
    SELECT DISTINCT unnest($ingredients::VARCHAR[]) AS name, unnest($days::DATE[]) AS observed_on,
                    unnest($suppliers::VARCHAR[]) AS supplier_key,
                    unnest($products::VARCHAR[]) AS product_key
)
SELECT i.name AS ingredient, o.observed_on, o.price, o.currency, o.pack, o.tax_pct, o.kind,
       o.supplier, o.product, o.region, o.source, o.note, b.file_name AS file, o.line, o.batch,
       o.price::DOUBLE * (1 + coalesce(o.tax_pct, 0)::DOUBLE / 100)
       / in_base(o.pack_amount, o.pack_dimension, m.grams, i.base, i.density_g_per_ml, i.grams_each)
       AS unit_price
FROM wanted w
JOIN ingredient_now i ON i.name = w.name
JOIN observation_now o ON o.ingredient_id = i.ingredient_id AND o.observed_on = w.observed_on
     AND o.supplier_key = w.supplier_key AND o.product_key = w.product_key
JOIN load_batch b ON b.batch = o.batch
LEFT JOIN measure_now m ON m.ingredient_id = o.ingredient_id AND m.measure_key = o.pack_measure_key
WHERE o.currency = $currency AND o.kind <> 'offer'
ORDER BY i.name_key, o.observed_on, o.row_id
