-- How much the book holds. Counts are of what is in force, unless the name says otherwise.
-- Columns: counts, then days and months (NULL where there are none). One row.
SELECT (SELECT count(*) FROM ingredient_now)                             AS ingredients,
       (SELECT count(*) FROM measure_now)                                AS measures,
       (SELECT count(*) FROM observation_now)                            AS observations,
       (SELECT count(*) FROM observation SEMI JOIN retraction USING (row_id))
                                                                         AS observations_retracted,
       (SELECT count(DISTINCT supplier_key) FROM observation_now WHERE supplier_key <> '')
                                                                         AS suppliers,
       (SELECT count(DISTINCT dish_id) FROM dish_version_now)            AS dishes,
       (SELECT count(*) FROM dish_version_now)                           AS versions,
       (SELECT count(*) FROM printed_now)                                AS printed,
       (SELECT count(*) FROM swap_now)                                   AS swaps,
       (SELECT count(DISTINCT series) FROM series_value_now)             AS series,
       (SELECT min(observed_on) FROM observation_now)                    AS first_price_on,
       (SELECT max(observed_on) FROM observation_now)                    AS last_price_on,
       (SELECT strftime(max(v.month), '%Y-%m') FROM series_value_now v
        JOIN setting_now s ON s.value = v.series AND s.name = 'food_series')
                                                                         AS food_last_month,
       (SELECT strftime(max(v.month), '%Y-%m') FROM series_value_now v
        JOIN setting_now s ON s.value = v.series AND s.name = 'all_items_series')
                                                                         AS all_items_last_month
