-- Index values the book holds for the asked series and months, every release of them.
-- Of two values stored for one release of a month only the last counts.
--
-- Parameter: $series  list of series ids.
-- Columns: series, month, released_on, value. No order.
SELECT v.series, v.month, v.released_on, v.value
FROM series_value v ANTI JOIN retraction r ON r.row_id = v.row_id
WHERE v.series IN (SELECT unnest($series::VARCHAR[]))
QUALIFY row_number() OVER (PARTITION BY v.series, v.month, v.released_on ORDER BY v.row_id DESC) = 1
