-- How the tables of each sender are read.
-- Parameter: $kind  of the files
-- Columns: fingerprint (of the headings), kind, sender, layout (JSON), batch. Order: as kept.
SELECT fingerprint, kind, sender, layout, batch FROM layout_now WHERE kind = $kind ORDER BY row_id
