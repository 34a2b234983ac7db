-- The item numbers and GTINs that came with words to the tray, settled lines included.
-- Columns: sender_key, words_key, item_number, gtin. Order: as loaded, the last one counts.
SELECT sender_key, words_key, item_number, gtin
FROM tray_line_now
WHERE item_number IS NOT NULL OR gtin IS NOT NULL
GROUP BY ALL
ORDER BY max(row_id)
