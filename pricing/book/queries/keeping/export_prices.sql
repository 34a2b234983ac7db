-- Every observation in force, in the words of a prices file. price: of the whole pack.
-- The columns stored_… say how the pack was read; they are not part of the file.
-- Order: by day, then by ingredient as compared, then as loaded.
SELECT i.name AS ingredient, o.observed_on AS date, o.price, o.currency, o.pack, o.supplier, o.kind,
       o.tax_pct, o.region, o.product, o.source, o.note,
       o.ingredient_id AS stored_for, o.pack_amount AS stored_amount,
       o.pack_dimension AS stored_dimension, o.pack_measure_key AS stored_measure
FROM observation_now o JOIN ingredient_now i USING (ingredient_id)
ORDER BY o.observed_on, i.name_key, o.row_id
