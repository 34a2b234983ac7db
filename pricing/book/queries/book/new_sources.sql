-- Sources that were not seen before, with their names as first written.
-- Reads fresh_day (the rows of book/source_day.sql). Adds to source.
INSERT INTO source
SELECT (SELECT coalesce(max(source_id), 0) FROM source) + row_number()
           OVER (ORDER BY ingredient_id, currency, market, supplier_key, product_key),
       ingredient_id, currency, market, supplier_key, product_key,
       arg_min(supplier, first_row), arg_min(product, first_row)
FROM fresh_day
ANTI JOIN source USING (ingredient_id, currency, market, supplier_key, product_key)
GROUP BY ingredient_id, currency, market, supplier_key, product_key
