-- Supplier and product of the streams that may count, as first written in the book.
-- Reads eligible_stream (made by pricing/prices/rule.py).
-- Columns: stream_id, supplier, product (NULL = blank). No order.
SELECT e.stream_id,
       arg_min(o.supplier, o.row_id) AS supplier,
       arg_min(o.product, o.row_id) AS product
FROM eligible_stream e
LEFT JOIN observation_now o USING (ingredient_id, supplier_key, product_key)
GROUP BY e.stream_id
