-- What a kitchen says of a dish version for the test bench: time that passes without work, energy,
-- washing-up, and what tasters said. Appended, never edited, like everything else.

CREATE TABLE dish_trial (
    row_id           BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch            INTEGER NOT NULL,
    line             INTEGER,
    raw              VARCHAR,
    version_row      BIGINT NOT NULL,       -- dish_version.row_id
    minutes_waiting  DECIMAL(18, 6) CHECK (minutes_waiting >= 0),  -- per batch, nobody at work
    energy_kwh       DECIMAL(18, 6) CHECK (energy_kwh >= 0),       -- per batch, as stated
    pots             INTEGER CHECK (pots >= 0),                    -- to wash up, per batch
    marks            VARCHAR[],             -- tasters' marks, decimals as text, as written
    tasting_note     VARCHAR
);

CREATE OR REPLACE VIEW dish_version_now AS
SELECT v.*, d.name AS dish, d.name_key AS dish_key,
       t.dish_group, t.minutes, t.made_per_month, t.target,
       b.minutes_waiting, b.energy_kwh, b.pots, b.marks, b.tasting_note
FROM dish_version v JOIN dish d USING (dish_id)
LEFT JOIN dish_detail t ON t.version_row = v.row_id
LEFT JOIN dish_trial b ON b.version_row = v.row_id
ANTI JOIN retraction r ON r.row_id = v.row_id
QUALIFY row_number() OVER (PARTITION BY v.dish_id, v.version ORDER BY v.row_id DESC) = 1;

CREATE TRIGGER dish_trial_never_edited AFTER UPDATE ON dish_trial FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of dish_trial are never edited: retract and append');
CREATE TRIGGER dish_trial_never_deleted AFTER DELETE ON dish_trial FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of dish_trial are never deleted: retract and append');
