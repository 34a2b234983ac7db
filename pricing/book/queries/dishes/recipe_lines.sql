-- Lines of dish versions, each turned into what must be bought.
-- Parameters: $versions  list of dish_version row ids, or NULL for all
-- Columns: version_row, position, ingredient_id, ingredient (name), sub_dish_id, sub_dish (name),
--          quantity, unit (as written), amount, dimension (of a sub-recipe line: portion, batch, g),
--          state, pantry, base, as_purchased (in the base unit, per batch; NULL for a sub-recipe, or
--          where a fact is missing), trim (bought per unit needed: 1, or of an edible amount 1 / its
--          yield, the line's, else the ingredient's; NULL where that is missing), allergens (list as
--          entered; NULL = unknown, or of a sub-recipe).
-- Order: version_row, position.
SELECT l.version_row, l.position, l.ingredient_id, l.ingredient,
       l.sub_dish_id, d.name AS sub_dish, l.quantity, l.unit, l.amount::DOUBLE AS amount, l.dimension,
       l.state, l.pantry, l.base, l.as_purchased, l.trim,
       l.allergens
FROM dish_line_bought l
LEFT JOIN dish d ON d.dish_id = l.sub_dish_id
WHERE $versions::BIGINT[] IS NULL OR l.version_row IN (SELECT unnest($versions::BIGINT[]))
ORDER BY l.version_row, l.position
