-- Every ingredient in force with how much is known of its price.
-- Parameters: $currency  observations in this currency are counted
-- Columns: ingredient_id, ingredient, category, base, series, series_title (NULL = none), prices
--          (observations in force), first_on, last_on (days of the first and the last of them;
--          NULL = none). Order: name as compared.
SELECT i.ingredient_id, i.name AS ingredient, i.category, i.base, i.series, s.title AS series_title,
       count(o.row_id) AS prices, min(o.observed_on) AS first_on, max(o.observed_on) AS last_on
FROM ingredient_now i
LEFT JOIN series_now s ON s.series = i.series
LEFT JOIN observation_now o ON o.ingredient_id = i.ingredient_id AND o.currency = $currency
GROUP BY ALL
ORDER BY any_value(i.name_key)
