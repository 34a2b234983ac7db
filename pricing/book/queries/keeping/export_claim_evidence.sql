-- The evidence kept of published figures in force, in the words of a claims file with the three
-- columns of evidence. Load it as claims, after claims.csv: it adds the evidence to the figures.
-- Order: by day of publication, then by dish as compared, then as recorded.
SELECT d.name AS dish, c.version, c.published_on, c.cost_per_portion, c.currency,
       c.published_where AS "where", c.note, e.recorded_at, e.evidence_sha256, e.evidence
FROM claim_evidence_now e
JOIN claim_now c ON c.row_id = e.claim_row
JOIN dish d USING (dish_id)
ORDER BY c.published_on, d.name_key, e.row_id
