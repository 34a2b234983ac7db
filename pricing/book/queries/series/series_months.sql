-- What an official series says of some months.
-- Parameters: $series, $months (list of first days of months)
-- Columns: month (as asked), value (of that month or the latest before it), value_month (the month
--          that value is of; NULL = the series begins later), first_month, last_month (of the
--          series). Order: month.
WITH held AS (SELECT month, value FROM series_value_now WHERE series = $series),
wanted AS (SELECT DISTINCT unnest($months::DATE[]) AS month)
SELECT w.month, h.value, h.month AS value_month,
       (SELECT min(month) FROM held) AS first_month, (SELECT max(month) FROM held) AS last_month
FROM wanted w
ASOF LEFT JOIN held h ON w.month >= h.month
ORDER BY w.month
