-- Printed figures in force whose evidence was kept when they were recorded.
-- Columns: dish, version, published_on, costed_on, printed (currency per portion), as_printed, currency,
--          published_where, note, recorded_at (UTC), evidence (JSON), evidence_sha256.
-- Order: dish as compared, published_on, then as entered.
SELECT d.name AS dish, p.version, p.published_on, p.costed_on, p.cost_per_portion::DOUBLE AS printed,
       p.as_printed, p.currency, p.published_where, p.note, e.recorded_at, e.evidence,
       e.evidence_sha256
FROM printed_evidence_now e
JOIN printed_now p ON p.row_id = e.figure_row
JOIN dish d USING (dish_id)
ORDER BY d.name_key, p.published_on, p.row_id
