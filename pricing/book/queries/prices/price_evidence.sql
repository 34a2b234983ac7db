-- What is behind prices: who asked what, which series moved it, which one the ingredient names.
-- Reads   grid (the rows of prices/which_price_counts.sql, with evidence) and eligible_source, both put
--         before it by pricing/prices/rule.py
-- Columns: those of which_price_counts.sql but seen and seen_later; observed (list of what is behind u or u0,
--          then of what is behind u1: date, supplier and product as first written or NULL, unit_price as
--          seen, moved (factor), series and series_title (that moved it, or NULL), share (of its end: each end adds up to
--          1); NULL = nothing); spread (spread_of of the book: the standard error of the mean of the sources, as a
--          share of the price; NULL = one source alone); series_title (of `series`), named_series (that the ingredient names; NULL
--          = none).
-- Order: ingredient_id, on_date.
WITH behind AS (
    SELECT ingredient_id, on_date, 0 AS part, unnest(seen) AS price,
           generate_subscripts(seen, 1) AS place
    FROM grid
    UNION ALL
    SELECT ingredient_id, on_date, 1, unnest(seen_later), generate_subscripts(seen_later, 1)
    FROM grid
),
shared AS (
    SELECT *, price.weight / sum(price.weight) OVER (PARTITION BY ingredient_id, on_date, part
                                                     ORDER BY place ROWS BETWEEN UNBOUNDED PRECEDING
                                                     AND UNBOUNDED FOLLOWING) AS share
    FROM behind
),
evidence AS (
    SELECT s.ingredient_id, on_date,
           list({'date': price.observed_on, 'supplier': e.supplier, 'product': e.product,
                 'unit_price': price.unit_price, 'moved': price.moved, 'series': price.series,
                 'series_title': t.title, 'share': share} ORDER BY part, place) AS observed
    FROM shared s JOIN eligible_source e ON e.source_id = s.price.source_id
    LEFT JOIN series_now t ON t.series = s.price.series
    GROUP BY s.ingredient_id, on_date
)
SELECT g.* EXCLUDE (seen, seen_later, towards), e.observed,
       spread_of(g.seen, g.seen_later, g.u0, g.u1, g.towards) AS spread, s.title AS series_title,
       i.series AS named_series
FROM grid g
LEFT JOIN evidence e ON e.ingredient_id = g.ingredient_id AND e.on_date = g.on_date
LEFT JOIN series_now s ON s.series = g.series
LEFT JOIN ingredient_now i ON i.ingredient_id = g.ingredient_id
ORDER BY g.ingredient_id, g.on_date
