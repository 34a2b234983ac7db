-- Every release of every month of the official series, in the words of an index file.
-- What came with portiondrift is left out: a new book brings it along. (It stood on no line; so a
-- file of that name is told from it.) A series that was only described anew brings one value along.
-- Of two values loaded for one release of a month only the last counts.
-- Order: by series, month, release.
WITH bundled AS (SELECT batch FROM load_batch WHERE file_name = 'bundled'),
release AS (
    SELECT v.*
    FROM series_value v ANTI JOIN retraction r ON r.row_id = v.row_id
    WHERE v.line IS NOT NULL OR v.batch NOT IN (FROM bundled)
    QUALIFY row_number() OVER (PARTITION BY v.series, v.month, v.released_on
                               ORDER BY v.row_id DESC) = 1
    UNION ALL                               -- series made of others: as they stand now
    SELECT v.* FROM series_value_now v WHERE v.series IN (SELECT series FROM series_part_now)
),
described AS (
    SELECT v.*
    FROM series_value_now v JOIN series_now s USING (series)
    WHERE (s.line IS NOT NULL OR s.batch NOT IN (FROM bundled))
      AND v.series NOT IN (SELECT series FROM release)
    QUALIFY row_number() OVER (PARTITION BY v.series ORDER BY v.month) = 1
)
SELECT v.series, strftime(v.month, '%Y-%m') AS month, v.value, s.title, s.parent, s.classification,
       CASE WHEN s.seasonally_adjusted THEN 'yes' WHEN NOT s.seasonally_adjusted THEN 'no' END
           AS seasonally_adjusted,
       v.released_on, d.base_label, d.frequency, d.note
FROM (FROM release UNION ALL FROM described) v LEFT JOIN series_now s USING (series)
LEFT JOIN series_detail_now d USING (series)
ORDER BY v.series, v.month, v.released_on NULLS FIRST
