-- Every value in force of some official series.
-- Parameters: $series (list of ids)
-- Columns: series, month (first day), value, released_on (NULL = not stated). Order: series, month.
SELECT series, month, value, released_on
FROM series_value_now
WHERE series IN (SELECT unnest($series::VARCHAR[]))
ORDER BY series, month
