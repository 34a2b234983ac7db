-- What a batch of index rows may change in moved prices.
-- Parameter: $batch
-- Columns: series (list of ids: those it names and those made of them), since (first day of the month
--          from which values may differ: the last one with a value before its own, since what lies
--          between was held at that; NULL = from the beginning, as it says more than values). One row.
WITH described AS (
    SELECT series FROM series WHERE batch = $batch
    UNION ALL SELECT series FROM series_detail WHERE batch = $batch
    UNION ALL SELECT series FROM series_link WHERE batch = $batch
    UNION ALL SELECT series FROM series_part WHERE batch = $batch
),
valued AS (
    SELECT series, min(month) AS first_month FROM series_value WHERE batch = $batch GROUP BY series
),
since AS (
    SELECT coalesce(max(o.month), v.first_month) AS since
    FROM valued v
    LEFT JOIN series_value o ON o.series = v.series AND o.batch <> $batch AND o.month < v.first_month
    GROUP BY v.series, v.first_month
),
named AS (SELECT series FROM described UNION SELECT series FROM valued)
SELECT coalesce(list(DISTINCT series), []) AS series,
       CASE WHEN (SELECT count(*) FROM described) = 0 THEN (SELECT min(since) FROM since) END AS since
FROM (FROM named UNION SELECT p.series FROM series_part_now p SEMI JOIN named n ON n.series = p.source)
