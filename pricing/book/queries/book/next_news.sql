-- The last kept day before those worked out anew points to the first of them.
-- Reads news (the rows of book/news_to_price.sql) and news_since. Changes typical_day.
UPDATE typical_day
SET next_on = (SELECT min(n.observed_on) FROM news n
               WHERE n.ingredient_id = typical_day.ingredient_id
                 AND n.currency = typical_day.currency AND n.market = typical_day.market)
FROM news_since s
WHERE s.ingredient_id = typical_day.ingredient_id AND typical_day.observed_on < s.since
  AND (typical_day.next_on IS NULL OR typical_day.next_on >= s.since)
