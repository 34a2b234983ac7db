-- What a series is made of: its parts in force, or itself.
-- Parameter: $series
-- Columns: source, factor, from_month (NULL: from its beginning), before_month (NULL: to its end).
-- Order: by time.
SELECT source, factor, from_month, before_month FROM series_part_now WHERE series = $series
UNION ALL
SELECT $series, 1.0, NULL, NULL WHERE $series NOT IN (SELECT series FROM series_part_now)
ORDER BY from_month NULLS FIRST
