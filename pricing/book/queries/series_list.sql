-- The official series of the book.
-- Columns: series, title, parent, classification, seasonally_adjusted, months (with a value),
--          first_month, last_month, last_released_on (NULL = not stated), ingredients (that name it),
--          revised (months of which more than one release is kept). Order: series.
SELECT s.series, s.title, s.parent, s.classification, s.seasonally_adjusted,
       coalesce(v.months, 0) AS months, v.first_month, v.last_month, v.last_released_on,
       coalesce(i.ingredients, 0) AS ingredients, coalesce(r.revised, 0) AS revised
FROM series_now s
LEFT JOIN (SELECT series, count(*) AS months, min(month) AS first_month, max(month) AS last_month,
                  max(released_on) AS last_released_on
           FROM series_value_now GROUP BY series) v USING (series)
LEFT JOIN (SELECT series, count(*) AS ingredients FROM ingredient_now GROUP BY series) i USING (series)
LEFT JOIN (SELECT series, count(*) AS revised
           FROM (SELECT series, month FROM series_value ANTI JOIN retraction USING (row_id)
                 GROUP BY series, month HAVING count(*) > 1) GROUP BY series) r USING (series)
ORDER BY s.series
