-- Versions of dishes, of the dishes asked for and of every dish they use as a sub-recipe.
-- Parameters: $dishes    list of dish ids, or NULL for all
--             $dish_key  name of one more dish, as compared, or NULL
-- Columns: version_row, dish_id, dish, version, effective_from, portions, batch_weight_g, group,
--          minutes, made_per_month, target.
-- Order: dish, effective_from, then as entered.
WITH RECURSIVE used AS (
    SELECT dish_id FROM dish_version_now
    WHERE $dishes::INTEGER[] IS NULL OR dish_id IN (SELECT unnest($dishes::INTEGER[]))
       OR dish_key = $dish_key::VARCHAR
    UNION
    SELECT l.sub_dish_id
    FROM used u JOIN dish_version_now v USING (dish_id) JOIN dish_line l ON l.version_row = v.row_id
    WHERE l.sub_dish_id IS NOT NULL
)
SELECT v.row_id AS version_row, v.dish_id, v.dish, v.version, v.effective_from,
       v.portions::DOUBLE AS portions, v.batch_weight_g::DOUBLE AS batch_weight_g,
       v.dish_group AS "group", v.minutes::DOUBLE AS minutes,
       v.made_per_month::DOUBLE AS made_per_month, v.target::DOUBLE AS target
FROM dish_version_now v
-- a version that was replaced keeps its place among those of the same day
JOIN (SELECT f.dish_id, f.version, min(f.row_id) AS first_row
      FROM dish_version f ANTI JOIN retraction r ON r.row_id = f.row_id
      GROUP BY f.dish_id, f.version) f ON f.dish_id = v.dish_id AND f.version = v.version
WHERE v.dish_id IN (SELECT dish_id FROM used)
ORDER BY v.dish_key, v.effective_from, f.first_row
