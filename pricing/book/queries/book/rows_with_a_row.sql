-- A row and what came by it alone, as far as it still counts: the evidence of a printed figure; the lines
-- that a decision settled, the prices they became, and the new ingredient that it made.
-- Parameter: $row
-- Columns: row_id, ingredient_id (of a price; else NULL). Order: row_id.
WITH decided AS (SELECT batch, line FROM decision WHERE row_id = $row),
gone AS (
    SELECT row_id, ingredient_id FROM observation WHERE row_id = $row
    UNION ALL
    SELECT row_id, NULL FROM swap WHERE row_id = $row
    UNION ALL
    SELECT row_id, NULL FROM printed_figure WHERE row_id = $row
    UNION ALL
    SELECT row_id, NULL FROM printed_evidence WHERE figure_row = $row
    UNION ALL
    SELECT row_id, NULL FROM decision WHERE row_id = $row
    UNION ALL
    SELECT s.row_id, NULL FROM tray_settled s JOIN decided d ON d.batch = s.batch AND d.line = s.line
    UNION ALL
    SELECT o.row_id, o.ingredient_id
    FROM observation o JOIN decided d ON d.batch = o.batch AND d.line = o.line
)
SELECT row_id, ingredient_id FROM gone ANTI JOIN retraction r USING (row_id)
ORDER BY row_id
