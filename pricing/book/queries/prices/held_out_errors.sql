-- How far each way of filling a gap was off the price that was held out, by the length of the gap.
-- Reads: held_out(case_id, on_date, d0, d1, truth) and bridged (the rows of which_price_counts.sql).
-- Parameter: $series  only cases moved by this series (NULL = all)
--            $edges   gap lengths in months at which a class ends, ascending
-- Columns: ends ('two': bridged between two observations, gap = days between them; 'one': from the
--          earlier alone, gap = days since it), up_to_months (NULL = longer), cases, bridge_pct,
--          hold_pct, line_pct (median absolute error in % of the price held out; the line from one
--          end is the held price), bridge_best (cases in which the bridge was nearest or as near).
-- Order: ends, gap.
WITH figure AS (
    SELECT CASE WHEN h.d1 IS NULL THEN 'one' ELSE 'two' END AS ends,
           (coalesce(h.d1, h.on_date) - h.d0) / 30.4375 AS gap_months, h.truth,
           b.unit_price AS bridge, b.u0 AS hold,
           CASE WHEN h.d1 IS NULL THEN b.u0
                ELSE b.u0 + (b.u1 - b.u0) * (h.on_date - h.d0) / (h.d1 - h.d0) END AS line
    FROM held_out h JOIN bridged b ON b.ingredient_id = h.case_id
    WHERE b.way IS NOT NULL AND (h.d1 IS NOT NULL) = (b.way <= 2)
      AND ($series::VARCHAR IS NULL OR b.series = $series)
),
error AS (
    SELECT ends,
           (SELECT min(edge) FROM (SELECT unnest($edges::INTEGER[]) AS edge)
            WHERE edge >= gap_months - 0.05) AS up_to_months,
           100 * abs(bridge / truth - 1) AS bridge, 100 * abs(hold / truth - 1) AS hold,
           100 * abs(line / truth - 1) AS line
    FROM figure
)
SELECT ends, up_to_months, count(*) AS cases, median(bridge) AS bridge_pct,
       median(hold) AS hold_pct, median(line) AS line_pct,
       count(*) FILTER (WHERE bridge <= least(hold, line)) AS bridge_best
FROM error
GROUP BY ends, up_to_months
ORDER BY ends, up_to_months NULLS LAST
