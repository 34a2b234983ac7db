-- Ingredients that were seen from a day on in a market in which the book keeps no price of theirs.
-- Parameters: $ingredients (ids, or NULL for all), $since (the day)
-- Columns: ingredient_id, currency, market. No order.
WITH seen AS (
    SELECT DISTINCT ingredient_id, currency, market_of(kind) AS market
    FROM observation
    WHERE observed_on >= $since::DATE AND kind <> 'offer'
      AND ($ingredients::INTEGER[] IS NULL
           OR ingredient_id IN (SELECT unnest($ingredients::INTEGER[])))
)
FROM seen ANTI JOIN (
    FROM typical_day
    WHERE $ingredients::INTEGER[] IS NULL OR ingredient_id IN (SELECT unnest($ingredients::INTEGER[]))
) USING (ingredient_id, currency, market)
