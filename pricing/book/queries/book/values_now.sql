-- The value of each month in force, of the asked series that have values of their own.
-- Parameter: $series  list of series ids.
-- Columns: series, month, value, released_on (NULL = not stated). No order.
SELECT series, month, value, released_on
FROM series_value_now
WHERE series IN (SELECT unnest($series::VARCHAR[]))
