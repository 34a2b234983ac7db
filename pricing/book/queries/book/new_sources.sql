-- Sources that were not seen before, with their names as first written.
-- Reads fresh_day (the rows of book/source_day.sql). Adds to source.
INSERT INTO source
SELECT (SELECT coalesce(max(source_id), 0) FROM source) + row_number()
           OVER (ORDER BY n.ingredient_id, n.currency, market, n.supplier_key, n.product_key),
       n.ingredient_id, n.currency, market, n.supplier_key, n.product_key, o.supplier, o.product
FROM (SELECT ingredient_id, currency, market, supplier_key, product_key, min(first_row) AS first_row
      FROM fresh_day
      ANTI JOIN source USING (ingredient_id, currency, market, supplier_key, product_key)
      GROUP BY ALL) n
JOIN observation o ON o.row_id = n.first_row
