-- Which dish takes which other dish, over the versions in force. `by_weight`: as g of its batch.
-- Order: none.
SELECT DISTINCT v.dish_id, v.version, l.sub_dish_id, l.dimension = 'g' AS by_weight
FROM dish_line l JOIN dish_version_now v ON v.row_id = l.version_row
WHERE l.sub_dish_id IS NOT NULL
