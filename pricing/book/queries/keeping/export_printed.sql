-- Every printed figure in force, in the words of a file of printed figures.
-- Order: by day of publication, then by dish as compared, then as loaded.
SELECT d.name AS dish, p.version, p.published_on,
       coalesce(p.as_printed, rtrim(rtrim(p.cost_per_portion::VARCHAR, '0'), '.'))
           AS cost_per_portion,
       p.currency,
       p.costed_on, p.published_where AS "where", p.note
FROM printed_now p JOIN dish d USING (dish_id)
ORDER BY p.published_on, d.name_key, p.row_id
