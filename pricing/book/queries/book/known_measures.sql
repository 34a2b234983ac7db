-- Every measure in force. grams: as purchased. Order: by ingredient and measure.
SELECT ingredient_id, measure, measure_key, grams, source
FROM measure_now
ORDER BY ingredient_id, measure_key
