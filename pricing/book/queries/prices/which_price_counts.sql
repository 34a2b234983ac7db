-- Which price of an ingredient counts on a date, and why: the whole rule, and the only place it is
-- written. One dish on one day and ten thousand dishes over fifteen years come through here, and so
-- do the typical prices that the book keeps (asked about every day of news, with $kept false).
--
-- Reads   asked(ingredient_id, on_date, market)   no duplicates, and either all of a pair with a
--                 market or one without; market: the one that counts whatever
--                 the rule would choose, or NULL
--         eligible_source(ingredient_id, market, source_id, supplier, product), eligible_day(source_id,
--                 observed_on, unit_price)   sources and their prices that pass the filters
--         news_day(ingredient_id, market, observed_on, next_on, unit_price, moved_share)   days on which
--                 something eligible was seen; with $kept also their typical price
-- Parameters: $market      shop, trade or any: whose prices are asked for
--             $usable_months  a value of a series counts for its month and so many after it
--             $fresh_days  a price so many days old still counts as it is
--             $half_life_days  an older price of a source counts half as much for every so many days
--             $bridging    true: basis `bridged`; false: basis `observed`
--             $as_known    true: what was seen after on_date does not count where there is an earlier
--             $food_series the book's food series, NULL: none; it and its parents are the last rungs
--             $kept        true: take typical prices from news_day; false: work them out
--             $evidence    true: also list the source prices behind each figure
-- Columns: ingredient_id, on_date; unit_price (currency per g, ml or each, as purchased; NULL =
--          missing); basis ('observed', 'bridged', 'missing'); market (that counted); moved_share (of
--          the figure, by value, that rests on moved prices); d0 (last day seen on or before on_date),
--          d1 (first day seen after it), u0, u1 (typical prices on them; NULL where not needed); series
--          (NULL unless bridged), way (1-2 between, 3-4 from d0, 5-6 from d1; even = a month after
--          the end of the series was held), month, month0, month1 (first days of the months the bridge
--          used), filled, filled0, filled1 (inside the series, without a value of its own), last_month (of
--          the series); towards (of a price between two days, how far the later one bends it, 0 to 1; 1 from
--          d1 alone); seen, seen_later (source prices behind u or u0, and u1); as_seen (u0 with no price
--          moved; only with $kept false).
-- No order.
WITH RECURSIVE
-- Whose prices count. Most ingredients are seen in one market only; then there is no choice.
present AS (
    SELECT ingredient_id, bool_or(market = 'shop') AS shop, bool_or(market = 'trade') AS trade,
           bool_or(market = 'any') AS pooled
    FROM eligible_source GROUP BY ingredient_id
),
two_markets AS (
    SELECT a.ingredient_id, a.on_date, s.observed_on AS last_shop, t.observed_on AS last_trade,
           greatest(s.observed_on, t.observed_on) AS last_seen
    FROM (SELECT a.* FROM asked a JOIN present p USING (ingredient_id)
          WHERE p.shop AND p.trade AND a.market IS NULL AND $market <> 'any') a
    ASOF LEFT JOIN (FROM news_day WHERE market = 'shop') s
        ON a.ingredient_id = s.ingredient_id AND a.on_date >= s.observed_on
    ASOF LEFT JOIN (FROM news_day WHERE market = 'trade') t
        ON a.ingredient_id = t.ingredient_id AND a.on_date >= t.observed_on
),
counted AS (
    SELECT a.ingredient_id, a.on_date,
           CASE WHEN a.market IS NOT NULL THEN a.market
                WHEN $market = 'any' AND p.pooled THEN 'any'
                WHEN NOT p.shop THEN 'trade'
                WHEN NOT p.trade THEN 'shop'
                WHEN m.last_seen IS NULL THEN $market
                WHEN $market = 'shop'
                    THEN if(coalesce(m.last_seen - m.last_shop <= 365, false), 'shop', 'trade')
                ELSE if(coalesce(m.last_seen - m.last_trade <= 365, false), 'trade', 'shop')
           END AS market
    FROM asked a JOIN present p USING (ingredient_id)
    LEFT JOIN two_markets m ON a.market IS NULL AND m.ingredient_id = a.ingredient_id
                           AND m.on_date = a.on_date
),
-- The days of news on either side. Between them nothing new is known.
-- Only news that is the last before some date asked about can be the answer: of prices seen daily and
-- asked about monthly that leaves one in thirty to be sorted.
asked_day AS (SELECT DISTINCT on_date FROM asked),
news_date AS (
    SELECT n.observed_on, a.on_date AS first_asked
    FROM (SELECT DISTINCT observed_on FROM news_day) n
    ASOF JOIN asked_day a ON n.observed_on <= a.on_date
),
last_news AS (
    SELECT n.* FROM news_day n JOIN news_date d USING (observed_on)
    WHERE n.next_on IS NULL OR n.next_on > d.first_asked
),
on_or_before AS (
    SELECT c.ingredient_id, c.on_date, c.market, n.observed_on AS d0, n.next_on, n.unit_price AS kept0,
           n.moved_share
    FROM counted c
    ASOF LEFT JOIN last_news n
        ON c.ingredient_id = n.ingredient_id AND c.market = n.market AND c.on_date >= n.observed_on
),
first_day AS (
    SELECT ingredient_id, market, min(observed_on) AS first_on
    FROM news_day SEMI JOIN (FROM on_or_before WHERE d0 IS NULL) USING (ingredient_id, market)
    GROUP BY ALL
),
around AS MATERIALIZED (
    SELECT o.ingredient_id, o.on_date, o.market, o.d0, o.kept0, o.moved_share,
           CASE WHEN o.d0 IS NULL THEN f.first_on
                WHEN NOT $as_known AND o.on_date - o.d0 > $fresh_days THEN o.next_on END AS d1
    FROM on_or_before o LEFT JOIN first_day f USING (ingredient_id, market)
),
stale AS MATERIALIZED (                                     -- what a series would have to move
    SELECT ingredient_id, on_date, market, d0, d1,
           date_trunc('month', on_date)::DATE AS month, date_trunc('month', d0)::DATE AS month0,
           date_trunc('month', d1)::DATE AS month1
    FROM around WHERE $bridging AND (d0 IS NULL OR on_date - d0 > $fresh_days)
),
-- What each source asked on those days: its latest price on or before.
news_asked AS (
    SELECT ingredient_id, market, d0 AS day FROM around WHERE d0 IS NOT NULL
    UNION SELECT ingredient_id, market, d1 FROM stale WHERE d1 IS NOT NULL
),
source_on AS MATERIALIZED (
    SELECT n.ingredient_id, n.market, n.day, n.source_id, d.observed_on, d.unit_price,
           pow(2, -(n.day - d.observed_on) / $half_life_days::DOUBLE) AS weight,
           $bridging AND n.day - d.observed_on > $fresh_days AS to_move,
           date_trunc('month', n.day)::DATE AS month, date_trunc('month', d.observed_on)::DATE AS month0
    FROM (SELECT a.ingredient_id, a.market, a.day, s.source_id
          FROM news_asked a JOIN eligible_source s USING (ingredient_id, market)
          WHERE $evidence OR NOT $kept) n
    ASOF JOIN eligible_day d ON n.source_id = d.source_id AND n.day >= d.observed_on
),
-- How an official series moves a price from one month, or between two, to a third (design section 5).
move_asked AS MATERIALIZED (
    SELECT ingredient_id, month, month0, month1 FROM stale
    UNION SELECT ingredient_id, month, month0, NULL FROM source_on WHERE to_move
),
own_ladder AS (                                             -- an ingredient's series, narrowest first
    SELECT i.ingredient_id, 1 AS rung, i.series
    FROM ingredient_now i
    WHERE i.series IS NOT NULL AND i.ingredient_id IN (SELECT ingredient_id FROM move_asked)
    UNION ALL
    SELECT l.ingredient_id, l.rung + 1, s.parent
    FROM own_ladder l JOIN series_now s ON s.series = l.series
    WHERE s.parent IS NOT NULL AND l.rung < 20              -- a ring of parents must end too
),
food_ladder AS (
    SELECT 101 AS rung, $food_series::VARCHAR AS series WHERE $food_series::VARCHAR IS NOT NULL
    UNION ALL
    SELECT l.rung + 1, s.parent
    FROM food_ladder l JOIN series_now s ON s.series = l.series
    WHERE s.parent IS NOT NULL AND l.rung < 120
),
ladder AS MATERIALIZED (
    SELECT ingredient_id, series, min(rung) AS rung
    FROM (FROM own_ladder
          UNION ALL
          SELECT i.ingredient_id, f.rung, f.series
          FROM (SELECT DISTINCT ingredient_id FROM move_asked) i, food_ladder f)
    GROUP BY ALL
),
series_month AS MATERIALIZED (
    SELECT series, month, value, max(month) OVER (PARTITION BY series) AS last_month
    FROM series_values_of((SELECT list(DISTINCT series) FROM ladder))
),
month_value AS MATERIALIZED (                               -- I(month)
    SELECT w.series, w.month, v.value, v.last_month,
           v.month + to_months($usable_months) >= w.month AS usable,
           w.month > v.last_month AS after_end,
           w.month > v.month AND w.month < v.last_month AS filled
    FROM (SELECT DISTINCT l.series, w.month
          FROM (SELECT DISTINCT ingredient_id, unnest([month, month0, month1]) AS month
                FROM move_asked) w
          JOIN ladder l USING (ingredient_id)
          WHERE w.month IS NOT NULL) w
    ASOF JOIN series_month v ON w.series = v.series AND w.month >= v.month
),
rung_choice AS (
    SELECT s.ingredient_id, s.month, s.month0, s.month1, l.series, l.rung,
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
    FROM move_asked s
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
move AS MATERIALIZED (                    -- narrowest first; of held series, the one that ended last
    SELECT ingredient_id, month, month0, month1, unnest(arg_min(
               {'series': series, 'i': i, 'i0': i0, 'i1': i1, 'last_month': last_month,
                'filled': filled, 'filled0': filled0, 'filled1': filled1, 'way': way},
               {'way': way,
                'ended': CASE WHEN way IN (2, 4, 6) THEN DATE '9999-12-31' - last_month ELSE 0 END,
                'rung': rung}))
    FROM way_of_rung WHERE way IS NOT NULL
    GROUP BY ingredient_id, month, month0, month1
),
-- Step 3: the mean of what the sources asked, the older the less it counts. The sums are exact, so that
-- the same book always gives the same last digit.
source_price AS (
    SELECT ingredient_id, market, day, source_id, observed_on, unit_price, weight,
           NULL::VARCHAR AS series, 1::DOUBLE AS factor
    FROM source_on WHERE NOT to_move
    UNION ALL
    SELECT s.ingredient_id, s.market, s.day, s.source_id, s.observed_on, s.unit_price, s.weight,
           m.series, coalesce(m.i / m.i0, 1)
    FROM (FROM source_on WHERE to_move) s
    LEFT JOIN (FROM move WHERE month1 IS NULL) m USING (ingredient_id, month, month0)
),
typical_sums AS (
    SELECT ingredient_id, market, day,
           exact_sum(weight) AS weights,
           exact_sum(weight * unit_price) AS value_as_seen,
           exact_sum(weight * unit_price * factor) AS value,
           exact_sum(if(series IS NULL, 0, weight * unit_price * factor)) AS moved_value,
           list({'source_id': source_id, 'observed_on': observed_on, 'unit_price': unit_price,
                 'moved': factor, 'series': series, 'weight': weight}
                ORDER BY observed_on DESC, source_id) FILTER ($evidence) AS seen
    FROM source_price GROUP BY ingredient_id, market, day
),
typical AS MATERIALIZED (
    SELECT ingredient_id, market, day, value / weights AS u, moved_value / value AS moved_share,
           value_as_seen / weights AS as_seen, seen
    FROM typical_sums
),
later AS (
    SELECT s.ingredient_id, s.on_date, s.market, n.unit_price AS kept1
    FROM stale s JOIN news_day n
      ON n.ingredient_id = s.ingredient_id AND n.market = s.market AND n.observed_on = s.d1
    WHERE $kept
),
priced AS (
    SELECT a.ingredient_id, a.on_date, a.market, a.d0, a.d1,
           if($kept, a.kept0, t.u) AS u0, if($kept, l.kept1, t1.u) AS u1,
           if($kept, a.moved_share, t.moved_share) AS moved_share0,
           t.as_seen, t.seen, t1.seen AS seen1,
           s.month, s.month0, s.month1, m.series, m.last_month, m.filled, m.filled0, m.filled1, m.way, m.i, m.i0, m.i1,
           a.on_date - a.d0 - $fresh_days AS gone, a.d1 - a.d0 - $fresh_days AS gap
    FROM around a
    LEFT JOIN stale s USING (ingredient_id, on_date, market)
    LEFT JOIN move m ON m.ingredient_id = s.ingredient_id AND m.month = s.month
                    AND m.month0 IS NOT DISTINCT FROM s.month0
                    AND m.month1 IS NOT DISTINCT FROM s.month1
    LEFT JOIN typical t ON t.ingredient_id = a.ingredient_id AND t.market = a.market AND t.day = a.d0
    LEFT JOIN typical t1 ON t1.ingredient_id = a.ingredient_id AND t1.market = a.market AND t1.day = a.d1
    LEFT JOIN later l USING (ingredient_id, on_date, market)
),
figure AS (
    SELECT *,
           CASE WHEN way <= 2 THEN gone / gap WHEN way > 4 THEN 1 ELSE 0 END AS towards,
           CASE WHEN way <= 2 THEN u0 * (i / i0) * pow((u1 / u0) / (i1 / i0), towards)
                WHEN way <= 4 THEN u0 * i / i0
                WHEN way <= 6 THEN u1 * i / i1
                ELSE u0 END AS unit_price
    FROM priced
)
SELECT a.ingredient_id, a.on_date, f.unit_price,
       CASE WHEN f.way IS NOT NULL THEN 'bridged' WHEN f.unit_price IS NULL THEN 'missing'
            ELSE 'observed' END AS basis,
       f.market,
       CASE WHEN f.way IS NOT NULL THEN 1 WHEN f.unit_price IS NOT NULL THEN f.moved_share0 END
           AS moved_share,
       f.d0, f.d1, f.u0, f.u1, f.series, f.way,
       CASE WHEN f.way IS NOT NULL THEN f.month END AS month,
       CASE WHEN f.way <= 4 THEN f.month0 END AS month0,
       CASE WHEN f.way IN (1, 2, 5, 6) THEN f.month1 END AS month1,
       f.last_month, f.filled, f.filled0, f.filled1, f.towards,
       CASE WHEN f.way IN (5, 6) THEN NULL ELSE f.seen END AS seen,
       CASE WHEN f.way IN (1, 2, 5, 6) THEN f.seen1 END AS seen_later, f.as_seen
FROM asked a
LEFT JOIN figure f ON f.ingredient_id = a.ingredient_id AND f.on_date = a.on_date
                  AND (a.market IS NULL OR f.market = a.market)
