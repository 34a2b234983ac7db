-- Every published figure in force, in the words of a claims file.
-- Order: by day of publication, then by dish as compared, then as loaded.
SELECT d.name AS dish, c.version, c.published_on, c.cost_per_portion, c.currency,
       c.published_where AS "where", c.note
FROM claim_now c JOIN dish d USING (dish_id)
ORDER BY c.published_on, d.name_key, c.row_id
