-- Which of the asked prices the book holds already: ingredient, date, price, currency, pack,
-- supplier, kind, tax, region and product agree.
--
-- Parameters: equally long lists, one element a price.
-- Columns: place (0 = the first of the lists). No order.
WITH asked AS (
    SELECT unnest(range(len($ingredient_id)))       AS place,
           unnest($ingredient_id::INTEGER[])        AS ingredient_id,
           unnest($observed_on::DATE[])             AS observed_on,
           unnest($price::VARCHAR[]::DECIMAL(18, 4)[])         AS price,
           unnest($currency::VARCHAR[])             AS currency,
           unnest($pack_amount::VARCHAR[]::DECIMAL(28, 12)[])  AS pack_amount,
           unnest($pack_dimension::VARCHAR[])       AS pack_dimension,
           unnest($pack_measure_key::VARCHAR[])     AS pack_measure_key,
           unnest($supplier_key::VARCHAR[])         AS supplier_key,
           unnest($kind::VARCHAR[])                 AS kind,
           unnest($tax_pct::VARCHAR[]::DECIMAL(9, 4)[])        AS tax_pct,
           unnest($region_key::VARCHAR[])           AS region_key,
           unnest($product_key::VARCHAR[])          AS product_key
)
SELECT a.place
FROM asked a
SEMI JOIN observation_now o
    ON  o.ingredient_id = a.ingredient_id AND o.observed_on = a.observed_on
    AND o.price = a.price AND o.currency = a.currency
    AND o.pack_amount = a.pack_amount AND o.pack_dimension = a.pack_dimension
    AND coalesce(o.pack_measure_key, '') = coalesce(a.pack_measure_key, '')
    AND o.supplier_key = a.supplier_key AND o.kind = a.kind
    AND coalesce(o.tax_pct, -1) = coalesce(a.tax_pct, -1)
    AND o.region_key = a.region_key AND o.product_key = a.product_key
