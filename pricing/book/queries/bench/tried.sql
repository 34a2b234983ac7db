-- What a kitchen says of dish versions beside their recipes.
-- Parameter: $versions  list of dish_version row ids
-- Columns: version_row, minutes (of work, per batch), minutes_waiting, energy_kwh, pots (all per
--          batch), marks (tasters', as written), tasting_note; NULL where it states none.
-- Order: by row.
SELECT row_id AS version_row, minutes::DOUBLE AS minutes, minutes_waiting::DOUBLE AS minutes_waiting,
       energy_kwh::DOUBLE AS energy_kwh, pots::DOUBLE AS pots, marks, tasting_note
FROM dish_version_now
WHERE row_id IN (SELECT unnest($versions::BIGINT[]))
ORDER BY row_id
