-- Published figures in force whose evidence was kept when they were recorded.
-- Columns: dish, version, published_on, claimed (currency per portion), currency, published_where,
--          note, recorded_at (UTC), evidence (JSON), evidence_sha256.
-- Order: dish as compared, published_on, then as entered.
SELECT d.name AS dish, c.version, c.published_on, c.cost_per_portion::DOUBLE AS claimed, c.currency,
       c.published_where, c.note, e.recorded_at, e.evidence, e.evidence_sha256
FROM claim_evidence_now e
JOIN claim_now c ON c.row_id = e.claim_row
JOIN dish d USING (dish_id)
ORDER BY d.name_key, c.published_on, c.row_id
