-- Every decision in force, in the words of a decisions file.
-- Order: by sender and words, as compared.
SELECT d.sender, d.words, coalesce(i.name, 'not an ingredient') AS ingredient, d.pack, d.product
FROM decision_now d LEFT JOIN ingredient i USING (ingredient_id)
ORDER BY d.sender_key, d.words_key
