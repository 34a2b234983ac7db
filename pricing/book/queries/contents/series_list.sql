-- The official series of the book.
-- Columns: series, title, parent, classification, seasonally_adjusted, base_label, frequency
--          ('monthly', or 'quarterly': each month carries its quarter's value), note, months (with a
--          value), first_month, last_month, last_released_on (NULL = not stated), ingredients (that
--          name it), leaning (that reach it from below, itself left out), revised (months of which
--          releases differ). Order: series.
WITH RECURSIVE rung AS (
    SELECT ingredient_id, series, 0 AS step FROM ingredient_now WHERE series IS NOT NULL
    UNION ALL
    SELECT r.ingredient_id, s.parent, r.step + 1
    FROM rung r JOIN series_now s USING (series)
    WHERE s.parent IS NOT NULL AND r.step < 20              -- a ring of parents must end too
)
SELECT s.series, s.title, s.parent, s.classification, s.seasonally_adjusted,
       d.base_label, coalesce(d.frequency, 'monthly') AS frequency, d.note,
       coalesce(v.months, 0) AS months, v.first_month, v.last_month, v.last_released_on,
       coalesce(i.ingredients, 0) AS ingredients, coalesce(i.leaning, 0) AS leaning,
       coalesce(r.revised, 0) AS revised
FROM series_now s
LEFT JOIN series_detail_now d USING (series)
LEFT JOIN (SELECT series, count(*) AS months, min(month) AS first_month, max(month) AS last_month,
                  max(released_on) AS last_released_on
           FROM series_value_now GROUP BY series) v USING (series)
LEFT JOIN (SELECT series, count(DISTINCT ingredient_id) FILTER (WHERE step = 0) AS ingredients,
                  count(DISTINCT ingredient_id) FILTER (WHERE step > 0) AS leaning
           FROM rung GROUP BY series) i USING (series)
LEFT JOIN (SELECT series, count(*) AS revised
           FROM (SELECT series, month FROM series_value ANTI JOIN retraction USING (row_id)
                 GROUP BY series, month HAVING count(DISTINCT value) > 1) GROUP BY series) r
       USING (series)
ORDER BY s.series
