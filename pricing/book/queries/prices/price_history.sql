-- Every observation of one ingredient in force, in every currency.
-- Parameters: $ingredient_id
-- Columns: observed_on, price (of the whole pack), currency, pack (as written), unit_price
--          (currency per g, ml or each, as purchased; NULL = the pack cannot be turned into the base
--          unit any more), supplier, product, kind, tax_pct, region,
--          note, file (that brought it), load, row (by which it is taken back). Order: newest first, then as loaded.
SELECT o.observed_on, o.price, o.currency, o.pack, o.unit_price,
       o.supplier, o.product, o.kind, o.tax_pct, o.region, o.note, b.file_name AS file, o.batch AS load,
       o.row_id AS row
FROM observation_priced o JOIN load_batch b USING (batch)
WHERE o.ingredient_id = $ingredient_id
ORDER BY o.observed_on DESC, o.row_id
