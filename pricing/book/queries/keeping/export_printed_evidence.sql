-- The evidence kept of printed figures in force, in the words of a file of printed figures with the
-- three columns of evidence. Load it as printed, after printed.csv: it adds the evidence to the figures.
-- Order: by day of publication, then by dish as compared, then as recorded.
SELECT d.name AS dish, p.version, p.published_on,
       coalesce(p.as_printed, rtrim(rtrim(p.cost_per_portion::VARCHAR, '0'), '.'))
           AS cost_per_portion,
       p.currency,
       p.costed_on, p.published_where AS "where", p.note, e.recorded_at, e.evidence_sha256, e.evidence
FROM printed_evidence_now e
JOIN printed_now p ON p.row_id = e.figure_row
JOIN dish d USING (dish_id)
ORDER BY p.published_on, d.name_key, e.row_id
