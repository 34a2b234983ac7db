-- What some official series say of some months, every series of every month it is usable in.
-- Parameters: $series (list of ids), $months (list of first days of months), $usable_months (a value
--             counts for its month and so many after it)
-- Columns: series, month (as asked), value (of that month, or of the latest of the usable months
--          before it that has one, as design section 5 has it), held (the month is after the last of the
--          series), own (the value is of the month itself). A month without such a value has no row. Order: series, month.
WITH series_month AS (
    SELECT series, month, value, max(month) OVER (PARTITION BY series) AS last_month
    FROM series_value_now
    WHERE series IN (SELECT unnest($series::VARCHAR[]))
),
serves AS (
    SELECT series, month AS value_month, value, last_month,
           (month + to_months(unnest(range($usable_months + 1))::INTEGER))::DATE AS month
    FROM series_month
)
SELECT series, month, value, month > last_month AS held, month = value_month AS own
FROM serves SEMI JOIN (SELECT unnest($months::DATE[]) AS month) USING (month)
QUALIFY row_number() OVER (PARTITION BY series, month ORDER BY value_month DESC) = 1
ORDER BY series, month
