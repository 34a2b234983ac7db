-- Loads of decisions in force that rest on a load: they settled its lines of the tray, or stored anew a
-- dish version that it stored.
-- Parameter: $batch
-- Columns: name (the words, or the dish), batch (of the decisions). Order: none.
SELECT DISTINCT t.words AS name, s.batch
FROM tray_settled s
JOIN tray_line t ON t.row_id = s.tray_row
ANTI JOIN retraction r ON r.row_id = s.row_id
WHERE t.batch = $batch
UNION
SELECT d.name, later.batch
FROM dish_version v
JOIN dish_version later ON later.dish_id = v.dish_id AND later.version = v.version
                       AND later.row_id > v.row_id
JOIN load_batch b ON b.batch = later.batch AND b.kind = 'decisions'
JOIN dish d ON d.dish_id = v.dish_id
ANTI JOIN retraction r ON r.row_id = later.row_id
WHERE v.batch = $batch AND later.batch <> $batch
