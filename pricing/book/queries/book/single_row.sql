-- A row that is taken back by itself: a price, a swap, a printed figure or a decision.
-- Parameter: $row
-- Columns: kept_in (its table), name (ingredient, dish or words), batch, retracted, restated (it is a
--          decision whose load stored dish versions anew for its words). Order: none; one row or none.
WITH one AS (
    SELECT 'observation' AS kept_in, o.row_id, o.batch, i.name
    FROM observation o JOIN ingredient i USING (ingredient_id)
    UNION ALL
    SELECT 'swap', w.row_id, w.batch, i.name FROM swap w JOIN ingredient i USING (ingredient_id)
    UNION ALL
    SELECT 'printed_figure', p.row_id, p.batch, d.name
    FROM printed_figure p JOIN dish d USING (dish_id)
    UNION ALL
    SELECT 'decision', row_id, batch, words FROM decision
)
SELECT one.kept_in, one.name, one.batch, r.row_id IS NOT NULL AS retracted,
       one.kept_in = 'decision' AND EXISTS (
           FROM dish_version v WHERE v.batch = one.batch
       ) AS restated
FROM one LEFT JOIN retraction r USING (row_id)
WHERE one.row_id = $row
