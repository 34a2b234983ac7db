-- Prices that wait for a decision.
-- Columns: row_id, batch, line, raw, file, and those of the table tray_line. Order: as loaded.
SELECT t.*, b.file_name AS file
FROM tray_waiting t JOIN load_batch b USING (batch)
ORDER BY t.row_id
