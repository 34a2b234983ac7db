-- Prices and lines of the tray in force that a file of prices brought before.
-- Parameter: $sha256  of the file
-- Columns: batch, line, observed_on, price, packs (NULL of a price in the book), currency, sender_key,
--          price_kind, tax_pct, done (it is a price of the book; what was decided to be no ingredient is
--          not). Order: as loaded.
SELECT t.batch, t.line, t.observed_on, t.price, t.packs, t.currency, t.sender_key, t.price_kind, t.tax_pct,
       EXISTS (
           FROM tray_settled s
           JOIN observation_now o ON o.batch = s.batch AND o.line = s.line
           ANTI JOIN retraction r ON r.row_id = s.row_id
           WHERE s.tray_row = t.row_id
       ) AS done
FROM tray_line_now t
JOIN load_batch b USING (batch)
WHERE b.file_sha256 = $sha256 AND b.kind = 'prices' AND t.line IS NOT NULL
UNION ALL
SELECT o.batch, o.line, o.observed_on, o.price, NULL, o.currency, o.supplier_key, o.kind, o.tax_pct, TRUE
FROM observation_now o
JOIN load_batch b USING (batch)
WHERE b.file_sha256 = $sha256 AND b.kind = 'prices' AND o.line IS NOT NULL
ORDER BY ALL
