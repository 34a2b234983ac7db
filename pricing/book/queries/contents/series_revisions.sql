-- Every release of the months of a series whose value was revised.
-- Parameter: $series
-- Columns: month, value, released_on (NULL = not stated), loaded_at (UTC), counts (is it the value
--          in force). Order: month, then from the earliest release to the one in force.
WITH release AS (
    SELECT v.* FROM series_value v ANTI JOIN retraction r ON r.row_id = v.row_id
    WHERE v.series = $series
)
SELECT v.month, v.value, v.released_on, b.loaded_at, n.row_id IS NOT NULL AS counts
FROM release v
SEMI JOIN (SELECT month FROM release GROUP BY month HAVING count(DISTINCT value) > 1) c USING (month)
LEFT JOIN load_batch b USING (batch)
LEFT JOIN series_value_now n ON n.series = v.series AND n.row_id = v.row_id
ORDER BY v.month, v.released_on NULLS FIRST, v.row_id
