-- Days on which something was seen of the ingredients of news_since, from the day it names on.
-- Parameters: $at_once  so many of them are worked out in one go
-- Columns: ingredient_id, currency, market, observed_on, next_on (the next such day), part (a number;
--          an ingredient is never in two). No order.
WITH day AS (
    SELECT DISTINCT s.ingredient_id, s.currency, s.market, d.observed_on
    FROM source_day d JOIN source s USING (source_id)
    JOIN news_since n ON n.ingredient_id = d.ingredient_id AND d.observed_on >= n.since
),
many AS (
    SELECT ingredient_id, sum(count(*)) OVER (ORDER BY ingredient_id) // $at_once AS part
    FROM day GROUP BY ingredient_id
)
SELECT d.*, lead(observed_on) OVER (PARTITION BY d.ingredient_id, currency, market
                                    ORDER BY observed_on) AS next_on,
       m.part
FROM day d JOIN many m USING (ingredient_id)
