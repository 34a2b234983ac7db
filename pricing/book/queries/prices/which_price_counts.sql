-- Which price of an ingredient counts on a date, and why: the whole rule, and the only place it is
-- written. One dish on one day and ten thousand dishes over fifteen years come through here.
--
-- Reads   asked(ingredient_id, on_date)      pairs, no duplicates   (made by pricing/prices/rule.py)
--         eligible_stream(ingredient_id, stream_id), eligible_day(ingredient_id, stream_id,
--         observed_on, unit_price)   stream-day prices that pass the currency, supplier, region and
--         kind filters
-- Parameters: $fresh_days     a price so many days old still counts as it is
--             $usable_months  a value of a series counts for its month and so many after it
--             $bridging       true: basis `bridged`; false: basis `observed`
--             $evidence       true: also list the stream prices behind each figure
-- Columns: ingredient_id, on_date; unit_price (currency per g, ml or each, as purchased; NULL =
--          missing); basis ('observed', 'bridged', 'missing'); d0 (last day seen on or before
--          on_date), d1 (first day seen after it), u0, u1 (typical prices on them; NULL where they
--          were not needed); series (NULL unless bridged), way (1-2 between, 3-4 from d0, 5-6 from
--          d1; even = a month after the end of the series was held), month, month0, month1 (first
--          days of the months the bridge used), filled, filled0, filled1 (inside the series, without a
--          value of its own), last_month (of the series); seen, seen_later (stream prices behind u
--          or u0, and behind u1).
-- Order: ingredient_id, on_date.
WITH RECURSIVE
stream_latest AS (                        -- each stream's latest day on or before on_date, of any age
    SELECT p.ingredient_id, p.on_date, p.stream_id, e.observed_on, e.unit_price
    FROM (SELECT a.ingredient_id, a.on_date, s.stream_id
          FROM asked a JOIN eligible_stream s USING (ingredient_id)) p
    ASOF JOIN eligible_day e ON p.stream_id = e.stream_id AND p.on_date >= e.observed_on
),
-- Step 3 on on_date itself. d0 counts whatever its age; a stream's price only while it is fresh.
-- (list_median of a list takes half the time of the aggregate median: groups are small and many.)
day_prices AS (
    SELECT ingredient_id, on_date, max(observed_on) AS d0,
           list(unit_price) FILTER (WHERE on_date - observed_on <= $fresh_days) AS prices,
           list({'stream_id': stream_id, 'observed_on': observed_on, 'unit_price': unit_price}
                ORDER BY observed_on DESC, stream_id)
               FILTER (WHERE $evidence AND on_date - observed_on <= $fresh_days) AS seen
    FROM stream_latest GROUP BY ingredient_id, on_date
),
on_day AS MATERIALIZED (
    SELECT ingredient_id, on_date, d0, list_median(prices) AS u, seen FROM day_prices
),
-- Step 3 on d0, where d0 is not fresh. No stream was seen between d0 and on_date, so a stream's
-- latest day is the same on both, and one look-up serves both.
on_d0 AS (
    SELECT l.ingredient_id, l.on_date, median(l.unit_price) AS u0,
           list({'stream_id': l.stream_id, 'observed_on': l.observed_on, 'unit_price': l.unit_price}
                ORDER BY l.observed_on DESC, l.stream_id) FILTER (WHERE $evidence) AS seen
    FROM stream_latest l
    JOIN on_day t ON t.ingredient_id = l.ingredient_id AND t.on_date = l.on_date
    WHERE t.u IS NULL AND t.d0 - l.observed_on <= $fresh_days
    GROUP BY l.ingredient_id, l.on_date
),
unfresh AS MATERIALIZED (
    SELECT a.ingredient_id, a.on_date, t.d0, o.u0, o.seen
    FROM asked a
    LEFT JOIN on_day t ON t.ingredient_id = a.ingredient_id AND t.on_date = a.on_date
    LEFT JOIN on_d0 o ON o.ingredient_id = a.ingredient_id AND o.on_date = a.on_date
    WHERE t.u IS NULL
),
first_after AS (
    SELECT n.*, e.observed_on AS d1
    FROM (SELECT * FROM unfresh WHERE $bridging) n
    ASOF LEFT JOIN (SELECT ingredient_id, observed_on FROM eligible_day
                    WHERE ingredient_id IN (SELECT ingredient_id FROM unfresh)) e
      ON n.ingredient_id = e.ingredient_id AND n.on_date < e.observed_on
),
-- Step 3 on d1. It is reached only when d0 is not fresh on on_date, so no earlier day is fresh on d1
-- either: what counts there is what was seen on d1 itself.
later AS MATERIALIZED (
    SELECT e.ingredient_id, e.observed_on AS d1, median(e.unit_price) AS u1,
           list({'stream_id': e.stream_id, 'observed_on': e.observed_on, 'unit_price': e.unit_price}
                ORDER BY e.stream_id) FILTER (WHERE $evidence) AS seen
    FROM eligible_day e
    JOIN (SELECT DISTINCT ingredient_id, d1 FROM first_after) n
      ON n.ingredient_id = e.ingredient_id AND n.d1 = e.observed_on
    GROUP BY e.ingredient_id, e.observed_on
),
stale AS MATERIALIZED (                                     -- what a series would have to move
    SELECT f.ingredient_id, f.on_date, f.d0, f.d1, f.u0, l.u1, l.seen AS seen1,
           date_trunc('month', f.on_date)::DATE AS month,
           date_trunc('month', f.d0)::DATE AS month0,
           date_trunc('month', f.d1)::DATE AS month1
    FROM first_after f
    LEFT JOIN later l ON l.ingredient_id = f.ingredient_id AND l.d1 = f.d1
    WHERE f.d0 IS NOT NULL OR f.d1 IS NOT NULL
),
ladder AS (                                                 -- an ingredient's series, narrowest first
    SELECT i.ingredient_id, 1 AS rung, i.series
    FROM ingredient_now i
    WHERE i.series IS NOT NULL AND i.ingredient_id IN (SELECT ingredient_id FROM stale)
    UNION ALL
    SELECT l.ingredient_id, l.rung + 1, s.parent
    FROM ladder l JOIN series_now s ON s.series = l.series
    WHERE s.parent IS NOT NULL AND l.rung < 20              -- a ring of parents must end too
),
series_month AS MATERIALIZED (
    SELECT series, month, value, max(month) OVER (PARTITION BY series) AS last_month
    FROM series_value_now
    WHERE series IN (SELECT series FROM ladder)
),
month_value AS MATERIALIZED (                               -- I(month), as design section 5 has it
    SELECT w.series, w.month, v.value, v.last_month,
           v.month + to_months($usable_months) >= w.month AS usable,
           w.month > v.last_month AS after_end,
           w.month > v.month AND w.month < v.last_month AS filled
    FROM (SELECT DISTINCT l.series, w.month
          FROM (SELECT DISTINCT ingredient_id, unnest([month, month0, month1]) AS month FROM stale) w
          JOIN ladder l USING (ingredient_id)
          WHERE w.month IS NOT NULL) w
    ASOF JOIN series_month v ON w.series = v.series AND w.month >= v.month
),
rung_choice AS (
    SELECT s.ingredient_id, s.on_date, l.series, l.rung,
           at_d.value AS i, at_0.value AS i0, at_1.value AS i1, at_d.last_month,
           at_d.filled, at_0.filled AS filled0, at_1.filled AS filled1,
           -- the months each way needs: usable, or after the end of a series that is usable before it
           at_d.usable AND at_0.usable AND at_1.usable AS between_usable,
           at_d.usable AND at_0.usable AS from_d0_usable,
           at_d.usable AND at_1.usable AS from_d1_usable,
           (at_d.usable OR at_d.after_end) AND at_0.usable
               AND (at_1.usable OR at_1.after_end) AS between_held,
           (at_d.usable OR at_d.after_end) AND at_0.usable AS from_d0_held,
           at_d.usable AND (at_1.usable OR at_1.after_end) AS from_d1_held
    FROM stale s
    JOIN ladder l USING (ingredient_id)
    JOIN month_value at_d ON at_d.series = l.series AND at_d.month = s.month
    LEFT JOIN month_value at_0 ON at_0.series = l.series AND at_0.month = s.month0
    LEFT JOIN month_value at_1 ON at_1.series = l.series AND at_1.month = s.month1
),
way_of_rung AS (
    SELECT *,
           CASE WHEN between_usable THEN 1 WHEN between_held THEN 2
                WHEN from_d0_usable THEN 3 WHEN from_d0_held THEN 4
                WHEN from_d1_usable THEN 5 WHEN from_d1_held THEN 6 END AS way
    FROM rung_choice
),
bridge AS (                               -- narrowest first; of held series, the one that ended last
    SELECT ingredient_id, on_date, unnest(arg_min(
               {'series': series, 'i': i, 'i0': i0, 'i1': i1, 'last_month': last_month, 'way': way,
                'filled': filled, 'filled0': filled0, 'filled1': filled1},
               {'way': way,
                'ended': CASE WHEN way IN (2, 4, 6) THEN DATE '9999-12-31' - last_month ELSE 0 END,
                'rung': rung}))
    FROM way_of_rung WHERE way IS NOT NULL
    GROUP BY ingredient_id, on_date
),
priced AS (
    SELECT a.ingredient_id, a.on_date, coalesce(t.seen, n.seen) AS seen, t.d0, s.d1, n.u0, s.u1,
           s.seen1, s.month, s.month0, s.month1, b.series, b.last_month, b.way,
           b.filled, b.filled0, b.filled1,
           CASE WHEN b.way <= 2 THEN s.u0 * (b.i / b.i0)
                    * pow((s.u1 / s.u0) / (b.i1 / b.i0), (s.on_date - s.d0) / (s.d1 - s.d0))
                WHEN b.way <= 4 THEN s.u0 * b.i / b.i0
                WHEN b.way <= 6 THEN s.u1 * b.i / b.i1
                ELSE coalesce(t.u, n.u0) END AS unit_price
    FROM asked a
    LEFT JOIN on_day t ON t.ingredient_id = a.ingredient_id AND t.on_date = a.on_date
    LEFT JOIN unfresh n ON n.ingredient_id = a.ingredient_id AND n.on_date = a.on_date
    LEFT JOIN stale s ON s.ingredient_id = a.ingredient_id AND s.on_date = a.on_date
    LEFT JOIN bridge b ON b.ingredient_id = a.ingredient_id AND b.on_date = a.on_date
)
SELECT ingredient_id, on_date, unit_price,
       CASE WHEN way IS NOT NULL THEN 'bridged' WHEN unit_price IS NULL THEN 'missing'
            ELSE 'observed' END AS basis,
       d0, d1, u0, u1, series, way,
       CASE WHEN way IS NOT NULL THEN month END AS month,
       CASE WHEN way <= 4 THEN month0 END AS month0,
       CASE WHEN way IN (1, 2, 5, 6) THEN month1 END AS month1,
       filled, filled0, filled1, last_month,
       CASE WHEN way IN (5, 6) THEN NULL ELSE seen END AS seen,
       CASE WHEN way IN (1, 2, 5, 6) THEN seen1 END AS seen_later
FROM priced
ORDER BY ingredient_id, on_date
