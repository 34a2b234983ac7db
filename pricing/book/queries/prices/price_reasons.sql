-- Why an ingredient has no price under a rule: what the book does hold of it.
-- Parameters: $ingredients (list of ids), $currency
-- Columns: ingredient_id, in_currency (observations in that currency, offers included), offers (of
--          these, offers), first_on (first day seen in that currency), other_currencies (sorted list).
SELECT ingredient_id,
       count(*) FILTER (WHERE currency = $currency) AS in_currency,
       count(*) FILTER (WHERE currency = $currency AND kind = 'offer') AS offers,
       min(observed_on) FILTER (WHERE currency = $currency AND kind <> 'offer') AS first_on,
       list_sort(list(DISTINCT currency) FILTER (WHERE currency <> $currency)) AS other_currencies
FROM observation_now
WHERE ingredient_id IN (SELECT unnest($ingredients::INTEGER[]))
GROUP BY ingredient_id
