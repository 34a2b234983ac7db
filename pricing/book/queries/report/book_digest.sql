-- One SHA-256 over all that the book was told: every load by the digest of its rows, every row taken
-- out, every setting. It says nothing of when a row came in, so a copy of the book has the same.
-- Columns: digest (one row)
SELECT sha256(
    coalesce((SELECT string_agg(concat_ws(':', batch, kind, rows_sha256), ';' ORDER BY batch)
              FROM load_batch), '')
    || '|' || coalesce((SELECT string_agg(row_id::VARCHAR, ';' ORDER BY row_id) FROM retraction), '')
    || '|' || coalesce((SELECT string_agg(concat(name, '=', value), ';' ORDER BY name)
                        FROM setting_now), '')) AS digest
