-- The decisions in force: which words are which ingredient.
-- Columns: sender, sender_key ('' = whoever writes them), words, words_key, ingredient_id (NULL = not an
--          ingredient), pack, product, batch. Order: as decided.
SELECT sender, sender_key, words, words_key, ingredient_id, pack, product, batch
FROM decision_now
ORDER BY row_id
