-- Every value of some official series from a month on.
-- Parameters: $series  list of ids
--             $months  how many months are looked at, up to the newest of these series
-- Columns: series, month, value. Order: series, month.
WITH held AS (
    SELECT series, month, value FROM series_value_now
    WHERE series IN (SELECT unnest($series::VARCHAR[]))
)
SELECT series, month, value FROM held
WHERE month > (SELECT max(month) FROM held) - to_months($months::INTEGER)
ORDER BY series, month
