-- Every load, with what became of it. undone: it stored rows, and all of them were taken out.
-- Columns: load (its number), kind, file, loaded_at (UTC), added, already (data rows), undone.
-- Order: as loaded.
WITH stored AS (
    SELECT batch, row_id FROM ingredient_fact
    UNION ALL SELECT batch, row_id FROM measure
    UNION ALL SELECT batch, row_id FROM observation
    UNION ALL SELECT batch, row_id FROM dish_version
    UNION ALL SELECT batch, row_id FROM swap
    UNION ALL SELECT batch, row_id FROM printed_figure
    UNION ALL SELECT batch, row_id FROM printed_evidence
    UNION ALL SELECT batch, row_id FROM series
    UNION ALL SELECT batch, row_id FROM series_value
    UNION ALL SELECT batch, row_id FROM series_detail
    UNION ALL SELECT batch, row_id FROM series_link
    UNION ALL SELECT batch, row_id FROM series_part
    UNION ALL SELECT batch, row_id FROM tray_line
    UNION ALL SELECT batch, row_id FROM decision
    UNION ALL SELECT batch, row_id FROM layout
),
became AS (
    SELECT batch, count(*) AS many, count(r.row_id) AS taken_out
    FROM stored LEFT JOIN retraction r USING (row_id)
    GROUP BY batch
)
SELECT batch AS load, kind, file_name AS file, loaded_at, added, already,
       coalesce(many = taken_out, false) AS undone
FROM load_batch LEFT JOIN became USING (batch)
ORDER BY batch
