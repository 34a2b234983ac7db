-- Months inside a series, among those asked for, in which the office published no value.
-- Parameters: $series, $months (parallel lists: series id, first day of month)
-- Columns: series, month. No order.
WITH wanted AS (
    SELECT DISTINCT unnest($series::VARCHAR[]) AS series, unnest($months::DATE[]) AS month
)
SELECT w.series, w.month
FROM wanted w
ANTI JOIN series_value_now v ON v.series = w.series AND v.month = w.month
WHERE w.month < (SELECT max(month) FROM series_value_now l WHERE l.series = w.series)
