-- Every supplier that a price in force names, as first written. Order: as compared.
SELECT arg_min(supplier, row_id) AS supplier
FROM observation_now
WHERE supplier_key <> ''
GROUP BY supplier_key
ORDER BY supplier_key
