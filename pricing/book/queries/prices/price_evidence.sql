-- What is behind prices: who asked what, which series moved it, which one the ingredient names.
-- Reads   grid(the rows of prices/which_price_counts.sql, with evidence) and eligible_stream
--         (both put before it by pricing/prices/rule.py)
-- Columns: those of which_price_counts.sql but seen and seen_later; observed (list of date, supplier,
--          product (as first written, NULL = blank) and unit_price of what is behind u or u0, then of
--          what is behind u1; NULL = nothing); series_title (of `series`), named_series (that the
--          ingredient names; NULL = none).
-- Order: ingredient_id, on_date.
WITH behind AS (
    SELECT ingredient_id, on_date, 0 AS part, unnest(seen) AS price,
           generate_subscripts(seen, 1) AS place
    FROM grid
    UNION ALL
    SELECT ingredient_id, on_date, 1, unnest(seen_later), generate_subscripts(seen_later, 1)
    FROM grid
),
named AS (
    SELECT s.stream_id, arg_min(o.supplier, o.row_id) AS supplier,
           arg_min(o.product, o.row_id) AS product
    FROM (SELECT DISTINCT price.stream_id FROM behind)
    JOIN eligible_stream s USING (stream_id)
    LEFT JOIN observation_now o USING (ingredient_id, supplier_key, product_key)
    GROUP BY s.stream_id
),
evidence AS (
    SELECT b.ingredient_id, b.on_date,
           list({'date': b.price.observed_on, 'supplier': n.supplier, 'product': n.product,
                 'unit_price': b.price.unit_price} ORDER BY b.part, b.place) AS observed
    FROM behind b JOIN named n ON n.stream_id = b.price.stream_id
    GROUP BY b.ingredient_id, b.on_date
)
SELECT g.* EXCLUDE (seen, seen_later), e.observed, s.title AS series_title,
       i.series AS named_series
FROM grid g
LEFT JOIN evidence e ON e.ingredient_id = g.ingredient_id AND e.on_date = g.on_date
LEFT JOIN series_now s ON s.series = g.series
LEFT JOIN ingredient_now i ON i.ingredient_id = g.ingredient_id
ORDER BY g.ingredient_id, g.on_date
