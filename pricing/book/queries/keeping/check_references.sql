-- Rows that point at nothing, or at what no longer counts. An orderly book answers with no row.
-- Columns: found (what is wrong), remedy, many (rows), first (where the first of them came from).
-- Order: by what is wrong.
WITH stored AS (
    SELECT row_id, batch, line FROM ingredient_fact
    UNION ALL SELECT row_id, batch, line FROM measure
    UNION ALL SELECT row_id, batch, line FROM observation
    UNION ALL SELECT row_id, batch, line FROM dish_version
    UNION ALL SELECT row_id, batch, line FROM dish_line
    UNION ALL SELECT row_id, batch, line FROM swap
    UNION ALL SELECT row_id, batch, line FROM swap_detail
    UNION ALL SELECT row_id, batch, line FROM dish_detail
    UNION ALL SELECT row_id, batch, line FROM dish_trial
    UNION ALL SELECT row_id, batch, line FROM printed_figure
    UNION ALL SELECT row_id, batch, line FROM printed_detail
    UNION ALL SELECT row_id, batch, line FROM printed_evidence
    UNION ALL SELECT row_id, batch, line FROM series
    UNION ALL SELECT row_id, batch, line FROM series_value
    UNION ALL SELECT row_id, batch, line FROM series_detail
    UNION ALL SELECT row_id, batch, line FROM series_link
    UNION ALL SELECT row_id, batch, line FROM series_part
    UNION ALL SELECT row_id, batch, line FROM tray_line
    UNION ALL SELECT row_id, batch, line FROM tray_settled
    UNION ALL SELECT row_id, batch, line FROM decision
    UNION ALL SELECT row_id, batch, line FROM layout
),
ingredient_use AS (
    SELECT row_id, ingredient_id FROM ingredient_fact
    UNION ALL SELECT row_id, ingredient_id FROM measure
    UNION ALL SELECT row_id, ingredient_id FROM observation
    UNION ALL SELECT row_id, ingredient_id FROM dish_line WHERE ingredient_id IS NOT NULL
    UNION ALL SELECT row_id, ingredient_id FROM swap
    UNION ALL SELECT row_id, substitute_id FROM swap WHERE substitute_id IS NOT NULL
    UNION ALL SELECT row_id, ingredient_id FROM decision WHERE ingredient_id IS NOT NULL
),
dish_use AS (
    SELECT row_id, dish_id FROM dish_version
    UNION ALL SELECT row_id, sub_dish_id FROM dish_line WHERE sub_dish_id IS NOT NULL
    UNION ALL SELECT row_id, dish_id FROM printed_figure
    UNION ALL SELECT row_id, substitute_dish_id FROM swap_detail WHERE substitute_dish_id IS NOT NULL
),
line_now AS (
    SELECT l.* FROM dish_line l JOIN dish_version_now v ON v.row_id = l.version_row
),
swap_use AS (
    SELECT row_id, ingredient_id FROM swap_now
    UNION ALL SELECT row_id, substitute_id FROM swap_now WHERE substitute_id IS NOT NULL
),
wrong AS (
    SELECT 'rows of a load that is not recorded' AS found, 'damaged' AS what, row_id
    FROM stored ANTI JOIN load_batch USING (batch)
    UNION ALL
    SELECT 'rows with a number that another row has', 'damaged', row_id
    FROM stored GROUP BY row_id HAVING count(*) > 1
    UNION ALL
    SELECT 'retractions of a row that does not exist', 'damaged', row_id
    FROM retraction ANTI JOIN stored USING (row_id)
    UNION ALL
    SELECT 'rows of an ingredient that has no name', 'damaged', row_id
    FROM ingredient_use ANTI JOIN ingredient USING (ingredient_id)
    UNION ALL
    SELECT 'rows of a dish that has no name', 'damaged', row_id
    FROM dish_use ANTI JOIN dish USING (dish_id)
    UNION ALL
    SELECT 'recipe lines of a version that does not exist', 'damaged', l.row_id
    FROM dish_line l ANTI JOIN dish_version v ON v.row_id = l.version_row
    UNION ALL
    SELECT 'details of a swap that does not exist', 'damaged', d.row_id
    FROM swap_detail d ANTI JOIN swap s ON s.row_id = d.swap_row
    UNION ALL
    SELECT 'details of a dish version that does not exist', 'damaged', d.row_id
    FROM (SELECT row_id, version_row FROM dish_detail
          UNION ALL SELECT row_id, version_row FROM dish_trial) d
    ANTI JOIN dish_version v ON v.row_id = d.version_row
    UNION ALL
    SELECT 'parts of a linked series whose source has no values in force', 'index', p.row_id
    FROM series_part_now p ANTI JOIN (
        SELECT series FROM series_value ANTI JOIN retraction USING (row_id)) v ON v.series = p.source
    UNION ALL
    SELECT 'details of a printed figure that does not exist', 'damaged', d.row_id
    FROM printed_detail d ANTI JOIN printed_figure p ON p.row_id = d.figure_row
    UNION ALL
    SELECT 'evidence of a printed figure that does not exist', 'damaged', e.row_id
    FROM printed_evidence e ANTI JOIN printed_figure p ON p.row_id = e.figure_row
    UNION ALL
    SELECT 'measures of an ingredient without facts in force', 'ingredients', row_id
    FROM measure_now ANTI JOIN ingredient_now USING (ingredient_id)
    UNION ALL
    SELECT 'prices of an ingredient without facts in force', 'ingredients', row_id
    FROM observation_now ANTI JOIN ingredient_now USING (ingredient_id)
    UNION ALL
    SELECT 'recipe lines with an ingredient without facts in force', 'ingredients', row_id
    FROM line_now ANTI JOIN ingredient_now USING (ingredient_id)
    JOIN ingredient USING (ingredient_id)
    WHERE NOT starts_with(name_key, 'waiting:')    -- these wait in the tray
    UNION ALL
    SELECT 'decisions for an ingredient without facts in force', 'ingredients', row_id
    FROM decision_now ANTI JOIN ingredient_now USING (ingredient_id)
    WHERE ingredient_id IS NOT NULL
    UNION ALL
    SELECT 'settled lines of the tray that do not exist', 'damaged', s.row_id
    FROM tray_settled s ANTI JOIN tray_line t ON t.row_id = s.tray_row
    UNION ALL
    SELECT 'swaps with an ingredient without facts in force', 'ingredients', row_id
    FROM swap_use ANTI JOIN ingredient_now USING (ingredient_id)
    UNION ALL
    SELECT 'recipe lines with a dish that has no version in force', 'dishes', l.row_id
    FROM line_now l ANTI JOIN dish_version_now v ON v.dish_id = l.sub_dish_id
    WHERE l.sub_dish_id IS NOT NULL
    UNION ALL
    SELECT 'swaps for a dish that has no version in force', 'dishes', w.row_id
    FROM swap_now w ANTI JOIN dish_version_now v ON v.dish_id = w.substitute_dish_id
    WHERE w.substitute_dish_id IS NOT NULL
    UNION ALL
    SELECT 'dish versions without lines', 'dishes', v.row_id
    FROM dish_version_now v ANTI JOIN dish_line l ON l.version_row = v.row_id
    UNION ALL
    SELECT 'printed figures of a dish version that is not in force', 'dishes', row_id
    FROM printed_now ANTI JOIN dish_version_now USING (dish_id, version)
    UNION ALL
    SELECT 'prices whose pack cannot be turned into the ingredient''s base unit', 'measures', row_id
    FROM observation_priced WHERE size IS NULL
)
SELECT found,
       CASE what
           WHEN 'damaged' THEN 'Bring back a copy with `portiondrift restore`.'
           WHEN 'measures' THEN 'Load the missing measure, density_g_per_ml or grams_each, or undo '
                                'the load.'
           ELSE 'Load the missing ' || what || ' with `portiondrift load ' || what || ' FILE`, or '
                'undo the load.'
       END AS remedy,
       count(DISTINCT row_id) AS many,
       arg_min(CASE WHEN stored.row_id IS NULL THEN 'row ' || wrong.row_id
                    WHEN line IS NULL THEN 'load ' || batch
                    ELSE 'load ' || batch || ', line ' || line END, wrong.row_id) AS first
FROM wrong LEFT JOIN stored USING (row_id)
GROUP BY ALL
ORDER BY found
