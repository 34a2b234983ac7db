-- Every observation of one ingredient in force, in every currency.
-- Unit price = price (plus tax_pct, if given) / pack in the ingredient's base unit, as in
-- book/stream_day.sql; NULL = the pack cannot be turned into the base unit any more.
-- Parameters: $ingredient_id
-- Columns: observed_on, price (of the whole pack), currency, pack (as written), unit_price
--          (currency per g, ml or each, as purchased), supplier, product, kind, tax_pct, region,
--          note, file (that brought it), batch. Order: newest first, then as loaded.
SELECT o.observed_on, o.price, o.currency, o.pack,
       o.price::DOUBLE * (1 + coalesce(o.tax_pct, 0)::DOUBLE / 100)
       / in_base(o.pack_amount, o.pack_dimension, m.grams, i.base, i.density_g_per_ml, i.grams_each)
       AS unit_price,
       o.supplier, o.product, o.kind, o.tax_pct, o.region, o.note, b.file_name AS file, o.batch
FROM observation_now o
JOIN ingredient_now i USING (ingredient_id)
JOIN load_batch b ON b.batch = o.batch
LEFT JOIN measure_now m ON m.ingredient_id = o.ingredient_id AND m.measure_key = o.pack_measure_key
WHERE o.ingredient_id = $ingredient_id
ORDER BY o.observed_on DESC, o.row_id
