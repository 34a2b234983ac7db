-- What each way of filling a gap made of the price that was held out.
-- Reads: held_out(case_id, ingredient_id, on_date, d0, d1, truth) and bridged (the rows of
--        which_price_counts.sql, with evidence).
-- Parameter: $series  only cases moved by this series (NULL = all)
-- Columns: ends ('fresh': the price before counted as seen; 'two': moved between two observations;
--          'one': from the earlier alone), gap_months (between the two, or since the one), ingredient_id,
--          truth, bridge (the rule's), hold (the price before, held), line (a straight line between two;
--          else the held price), spread (standard error of the mean of its sources ÷ price; 0: one source).
-- Order: case_id.
SELECT CASE WHEN b.way IS NULL THEN 'fresh' WHEN h.d1 IS NULL THEN 'one' ELSE 'two' END AS ends,
       (coalesce(h.d1, h.on_date) - h.d0) / 30.4375 AS gap_months, h.ingredient_id, h.truth,
       b.unit_price AS bridge, b.u0 AS hold,
       CASE WHEN h.d1 IS NULL THEN b.u0
            ELSE b.u0 + (b.u1 - b.u0) * (h.on_date - h.d0) / (h.d1 - h.d0) END AS line,
       coalesce(spread_of(b.seen, b.seen_later, b.u0, b.u1, b.towards), 0) AS spread
FROM held_out h JOIN bridged b ON b.ingredient_id = h.case_id
WHERE CASE WHEN b.way IS NULL THEN h.on_date - h.d0 <= $fresh_days
           ELSE (h.d1 IS NOT NULL) = (b.way <= 2) END
  AND ($series::VARCHAR IS NULL OR b.series = $series)
ORDER BY h.case_id
