-- Every dish version in force. batch_weight_g: of the whole batch. Order: as stored.
SELECT row_id, dish_id, dish, dish_key, version, effective_from, portions, batch_weight_g,
       dish_group AS "group", minutes, made_per_month, target,
       minutes_waiting, energy_kwh, pots, marks, tasting_note
FROM dish_version_now
ORDER BY row_id
