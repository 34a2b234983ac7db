-- Prices and lines of the tray in force that a file of prices brought before.
-- Parameter: $sha256  of the file
-- Columns: batch, line, observed_on, price, packs (NULL of a price in the book), currency, sender_key,
--          price_kind, tax_pct, done (no longer waits). Order: as loaded.
SELECT t.batch, t.line, t.observed_on, t.price, t.packs, t.currency, t.sender_key, t.price_kind, t.tax_pct,
       w.row_id IS NULL AS done
FROM tray_line_now t
JOIN load_batch b USING (batch)
LEFT JOIN tray_waiting w ON w.row_id = t.row_id
WHERE b.file_sha256 = $sha256 AND b.kind = 'prices' AND t.line IS NOT NULL
UNION ALL
SELECT o.batch, o.line, o.observed_on, o.price, NULL, o.currency, o.supplier_key, o.kind, o.tax_pct, TRUE
FROM observation_now o
JOIN load_batch b USING (batch)
WHERE b.file_sha256 = $sha256 AND b.kind = 'prices' AND o.line IS NOT NULL
ORDER BY ALL
