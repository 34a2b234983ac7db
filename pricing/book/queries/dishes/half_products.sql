-- Half-products: dishes that other dishes take and that were never printed.
-- Columns: dish_id. No order.
SELECT DISTINCT sub_dish_id AS dish_id
FROM dish_line_bought
WHERE sub_dish_id IS NOT NULL AND sub_dish_id NOT IN (SELECT dish_id FROM printed_now)
