-- More kinds of swap (to nothing, to another dish, to another product of the same ingredient), what a
-- kitchen says of a dish beside its recipe, and settings that are checked where they are set.
-- Tables whose constraints were too narrow are made anew with the rows they held.

CREATE TEMP TABLE kept_swap AS FROM swap;
DROP VIEW swap_now;
DROP TABLE swap;
CREATE TABLE swap (
    row_id         BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch          INTEGER NOT NULL,
    line           INTEGER,
    raw            VARCHAR,
    ingredient_id  INTEGER NOT NULL,
    substitute_id  INTEGER,                 -- NULL: another dish takes its place, or nothing
    ratio          DECIMAL(18, 9) NOT NULL CHECK (ratio >= 0),   -- 0: left out
    note           VARCHAR
);
INSERT INTO swap FROM kept_swap;
DROP TABLE kept_swap;

CREATE TABLE swap_detail (                  -- what a swap says beyond ratio and note; none for most
    row_id              BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch               INTEGER NOT NULL,
    line                INTEGER,
    raw                 VARCHAR,
    swap_row            BIGINT NOT NULL,    -- swap.row_id
    substitute_dish_id  INTEGER,            -- its ratio is g of that dish
    ratio_state         VARCHAR NOT NULL CHECK (ratio_state IN ('as_purchased', 'edible')),
    supplier            VARCHAR,            -- only prices from there count for the substitute
    supplier_key        VARCHAR NOT NULL,   -- '' when blank
    product             VARCHAR,
    product_key         VARCHAR NOT NULL,
    pack                VARCHAR,            -- as written
    pack_amount         DECIMAL(28, 12) CHECK (pack_amount > 0),
    pack_dimension      VARCHAR CHECK (pack_dimension IN ('g', 'ml', 'each', 'measure')),
    pack_measure_key    VARCHAR,
    works_in            VARCHAR[] NOT NULL, -- dishes, or group:NAME; [] = anywhere
    not_in              VARCHAR[] NOT NULL,
    not_with            VARCHAR[] NOT NULL, -- substitutes of other swaps it cannot be combined with
    only_with           VARCHAR[] NOT NULL, -- substitutes of other swaps of which it needs one
    disturbance         DECIMAL(9, 4) CHECK (disturbance > 0)
);

CREATE VIEW swap_now AS
SELECT s.*, d.substitute_dish_id, coalesce(d.ratio_state, 'as_purchased') AS ratio_state,
       d.supplier, coalesce(d.supplier_key, '') AS supplier_key,
       d.product, coalesce(d.product_key, '') AS product_key, d.pack, d.pack_amount, d.pack_dimension, d.pack_measure_key,
       coalesce(d.works_in, []) AS works_in, coalesce(d.not_in, []) AS not_in,
       coalesce(d.not_with, []) AS not_with, coalesce(d.only_with, []) AS only_with, d.disturbance
FROM swap s LEFT JOIN swap_detail d ON d.swap_row = s.row_id
ANTI JOIN retraction r ON r.row_id = s.row_id
QUALIFY row_number() OVER (
    PARTITION BY s.ingredient_id, s.substitute_id, d.substitute_dish_id,
                 coalesce(d.supplier_key, ''), coalesce(d.product_key, ''),
                 d.pack_amount, d.pack_dimension, d.pack_measure_key
    ORDER BY s.row_id DESC) = 1;

CREATE TABLE dish_detail (                  -- what a kitchen says of a dish version beside the recipe
    row_id          BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch           INTEGER NOT NULL,
    line            INTEGER,
    raw             VARCHAR,
    version_row     BIGINT NOT NULL,        -- dish_version.row_id
    dish_group      VARCHAR,
    minutes         DECIMAL(18, 6) CHECK (minutes > 0),         -- of work, per batch
    made_per_month  DECIMAL(18, 6) CHECK (made_per_month > 0),  -- batches
    target          DECIMAL(18, 4) CHECK (target > 0)           -- cost per portion, the book's currency
);

CREATE OR REPLACE VIEW dish_version_now AS
SELECT v.*, d.name AS dish, d.name_key AS dish_key,
       t.dish_group, t.minutes, t.made_per_month, t.target
FROM dish_version v JOIN dish d USING (dish_id)
LEFT JOIN dish_detail t ON t.version_row = v.row_id
ANTI JOIN retraction r ON r.row_id = v.row_id
QUALIFY row_number() OVER (PARTITION BY v.dish_id, v.version ORDER BY v.row_id DESC) = 1;

CREATE TEMP TABLE kept_setting AS FROM setting;
DROP VIEW setting_now;
DROP TABLE setting;
CREATE TABLE setting (
    row_id  BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    name    VARCHAR NOT NULL,
    value   VARCHAR NOT NULL,
    set_at  TIMESTAMP NOT NULL
);
INSERT INTO setting FROM kept_setting;
DROP TABLE kept_setting;
CREATE VIEW setting_now AS
SELECT name, arg_max(value, row_id) AS value FROM setting GROUP BY name;

CREATE TRIGGER swap_never_edited AFTER UPDATE ON swap FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of swap are never edited: retract and append');
CREATE TRIGGER swap_never_deleted AFTER DELETE ON swap FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of swap are never deleted: retract and append');
CREATE TRIGGER swap_detail_never_edited AFTER UPDATE ON swap_detail FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of swap_detail are never edited: retract and append');
CREATE TRIGGER swap_detail_never_deleted AFTER DELETE ON swap_detail FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of swap_detail are never deleted: retract and append');
CREATE TRIGGER dish_detail_never_edited AFTER UPDATE ON dish_detail FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of dish_detail are never edited: retract and append');
CREATE TRIGGER dish_detail_never_deleted AFTER DELETE ON dish_detail FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of dish_detail are never deleted: retract and append');
CREATE TRIGGER setting_never_edited AFTER UPDATE ON setting FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of setting are never edited: retract and append');
CREATE TRIGGER setting_never_deleted AFTER DELETE ON setting FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of setting are never deleted: retract and append');
