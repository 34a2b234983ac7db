-- What official series said of some months: the value used, and the release it is of.
-- Parameters: $series, $months (parallel lists: series id, first day of month)
-- Columns: series, title, month (as asked), value_month (that the value is of), value, released_on
--          (NULL = not stated). Order: series, month.
WITH wanted AS (
    SELECT DISTINCT unnest($series::VARCHAR[]) AS series, unnest($months::DATE[]) AS month
)
SELECT w.series, s.title, w.month, v.month AS value_month, v.value, v.released_on
FROM wanted w
ASOF JOIN series_value_now v ON v.series = w.series AND w.month >= v.month
LEFT JOIN series_now s ON s.series = w.series
ORDER BY w.series, w.month
