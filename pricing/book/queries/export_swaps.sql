-- Every swap in force, in the words of a swaps file. Order: by ingredient, then by substitute.
SELECT i.name AS ingredient, s.name AS substitute, w.ratio, w.note
FROM swap_now w
JOIN ingredient_now i ON i.ingredient_id = w.ingredient_id
JOIN ingredient_now s ON s.ingredient_id = w.substitute_id
ORDER BY i.name_key, s.name_key
