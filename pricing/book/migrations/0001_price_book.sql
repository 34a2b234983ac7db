-- The price book. Every stored row has a row_id of its own, the load batch that brought it, the
-- physical line it stood on and the raw line. Rows are appended; what no longer counts has a row in
-- `retraction`. Facts of one thing (an ingredient, a measure, a dish version, a series) may be
-- appended again: the row with the highest row_id that is not retracted is the one in force.

CREATE SEQUENCE next_row_id;

CREATE TABLE setting (
    row_id  BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    name    VARCHAR NOT NULL CHECK (name IN
            ('currency', 'measures', 'fresh_days', 'food_series', 'all_items_series')),
    value   VARCHAR NOT NULL,
    set_at  TIMESTAMP NOT NULL
);

CREATE TABLE load_batch (
    batch        INTEGER PRIMARY KEY,
    kind         VARCHAR NOT NULL CHECK (kind IN
                 ('ingredients', 'measures', 'prices', 'dishes', 'swaps', 'claims', 'index')),
    file_name    VARCHAR NOT NULL,          -- name only; "by hand" and "bundled" are not files
    file_sha256  VARCHAR NOT NULL,
    loaded_at    TIMESTAMP NOT NULL,
    added        INTEGER NOT NULL,          -- data rows
    already      INTEGER NOT NULL,          -- data rows that the book held
    rows_sha256  VARCHAR NOT NULL           -- of the rows as stored, so that `check` sees a changed byte
);

CREATE TABLE retraction (
    row_id        BIGINT PRIMARY KEY,
    retracted_at  TIMESTAMP NOT NULL,
    reason        VARCHAR NOT NULL
);

-- names
CREATE TABLE ingredient (
    ingredient_id  INTEGER PRIMARY KEY,
    name           VARCHAR NOT NULL,        -- as first written
    name_key       VARCHAR NOT NULL UNIQUE  -- as compared
);

CREATE TABLE dish (
    dish_id   INTEGER PRIMARY KEY,
    name      VARCHAR NOT NULL,
    name_key  VARCHAR NOT NULL UNIQUE
);

-- facts
CREATE TABLE ingredient_fact (
    row_id            BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch             INTEGER NOT NULL,
    line              INTEGER,
    raw               VARCHAR,
    ingredient_id     INTEGER NOT NULL,
    category          VARCHAR,
    base              VARCHAR NOT NULL CHECK (base IN ('g', 'ml', 'each')),
    density_g_per_ml  DECIMAL(18, 9) CHECK (density_g_per_ml > 0),
    grams_each        DECIMAL(18, 9) CHECK (grams_each > 0),
    yield_pct         DECIMAL(9, 6) CHECK (yield_pct > 0 AND yield_pct <= 100),
    series            VARCHAR,
    allergens         VARCHAR[],            -- NULL = unknown; [] = stated as none
    aliases           VARCHAR[] NOT NULL
);

CREATE TABLE measure (
    row_id         BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch          INTEGER NOT NULL,
    line           INTEGER,
    raw            VARCHAR,
    ingredient_id  INTEGER NOT NULL,
    measure        VARCHAR NOT NULL,
    measure_key    VARCHAR NOT NULL,
    grams          DECIMAL(18, 9) NOT NULL CHECK (grams > 0),  -- as purchased
    source         VARCHAR
);

CREATE TABLE observation (
    row_id            BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch             INTEGER NOT NULL,
    line              INTEGER,
    raw               VARCHAR,
    ingredient_id     INTEGER NOT NULL,
    observed_on       DATE NOT NULL,
    price             DECIMAL(18, 4) NOT NULL CHECK (price > 0),  -- of the whole pack
    currency          VARCHAR NOT NULL,
    pack              VARCHAR NOT NULL,     -- as written
    pack_amount       DECIMAL(28, 12) NOT NULL CHECK (pack_amount > 0),
    pack_dimension    VARCHAR NOT NULL CHECK (pack_dimension IN ('g', 'ml', 'each', 'measure')),
    pack_measure_key  VARCHAR,
    supplier          VARCHAR,
    supplier_key      VARCHAR NOT NULL,     -- '' when blank
    kind              VARCHAR NOT NULL CHECK (kind IN
                      ('shelf', 'offer', 'receipt', 'invoice', 'quote')),
    tax_pct           DECIMAL(9, 4) CHECK (tax_pct >= 0),
    region            VARCHAR,
    region_key        VARCHAR NOT NULL,
    product           VARCHAR,
    product_key       VARCHAR NOT NULL,
    source            VARCHAR,
    note              VARCHAR
);

CREATE TABLE dish_version (
    row_id          BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch           INTEGER NOT NULL,
    line            INTEGER,
    raw             VARCHAR,
    dish_id         INTEGER NOT NULL,
    version         VARCHAR NOT NULL,
    effective_from  DATE NOT NULL,
    portions        DECIMAL(18, 6) NOT NULL CHECK (portions > 0),
    batch_weight_g  DECIMAL(18, 6) CHECK (batch_weight_g > 0)
);

CREATE TABLE dish_line (
    row_id         BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch          INTEGER NOT NULL,
    line           INTEGER,
    raw            VARCHAR,
    version_row    BIGINT NOT NULL,         -- dish_version.row_id
    position       INTEGER NOT NULL,        -- 1, 2, … as printed
    ingredient_id  INTEGER,
    sub_dish_id    INTEGER,
    quantity       VARCHAR NOT NULL,        -- as written
    unit           VARCHAR NOT NULL,        -- as written
    amount         DECIMAL(28, 12) NOT NULL CHECK (amount > 0),
    dimension      VARCHAR NOT NULL CHECK (dimension IN
                   ('g', 'ml', 'each', 'measure', 'portion', 'batch')),
    measure_key    VARCHAR,
    state          VARCHAR NOT NULL CHECK (state IN ('as_purchased', 'edible')),
    yield_pct      DECIMAL(9, 6) CHECK (yield_pct > 0 AND yield_pct <= 100),
    pantry         BOOLEAN NOT NULL,
    note           VARCHAR,
    CHECK ((ingredient_id IS NULL) <> (sub_dish_id IS NULL))
);

CREATE TABLE swap (
    row_id         BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch          INTEGER NOT NULL,
    line           INTEGER,
    raw            VARCHAR,
    ingredient_id  INTEGER NOT NULL,
    substitute_id  INTEGER NOT NULL,
    ratio          DECIMAL(18, 9) NOT NULL CHECK (ratio > 0),
    note           VARCHAR
);

CREATE TABLE claim (
    row_id            BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch             INTEGER NOT NULL,
    line              INTEGER,
    raw               VARCHAR,
    dish_id           INTEGER NOT NULL,
    version           VARCHAR NOT NULL,
    published_on      DATE NOT NULL,
    cost_per_portion  DECIMAL(18, 4) NOT NULL CHECK (cost_per_portion > 0),
    currency          VARCHAR NOT NULL,
    published_where   VARCHAR,
    note              VARCHAR
);

CREATE TABLE series (
    row_id               BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch                INTEGER NOT NULL,
    line                 INTEGER,
    raw                  VARCHAR,
    series               VARCHAR NOT NULL,
    title                VARCHAR,
    parent               VARCHAR,
    classification       VARCHAR,
    seasonally_adjusted  BOOLEAN
);

CREATE TABLE series_value (
    row_id       BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch        INTEGER NOT NULL,
    line         INTEGER,
    raw          VARCHAR,
    series       VARCHAR NOT NULL,
    month        DATE NOT NULL CHECK (day(month) = 1),
    value        DOUBLE NOT NULL CHECK (value > 0),
    released_on  DATE
);

-- derived: may be emptied and rebuilt from the tables above at any time
CREATE TABLE stream (                       -- one supplier and product of one ingredient, one currency
    stream_id      INTEGER PRIMARY KEY,
    ingredient_id  INTEGER NOT NULL,
    currency       VARCHAR NOT NULL,
    supplier_key   VARCHAR NOT NULL,
    product_key    VARCHAR NOT NULL
);

CREATE TABLE stream_day (                   -- median unit price of a stream on a day it was seen
    ingredient_id  INTEGER NOT NULL,
    stream_id      INTEGER NOT NULL,
    observed_on    DATE NOT NULL,
    unit_price     DOUBLE NOT NULL          -- currency per g, ml or each, as purchased
);

-- what counts now
CREATE VIEW ingredient_now AS
SELECT i.ingredient_id, i.name, i.name_key, f.* EXCLUDE (ingredient_id)
FROM ingredient i JOIN ingredient_fact f USING (ingredient_id)
ANTI JOIN retraction r ON r.row_id = f.row_id
QUALIFY row_number() OVER (PARTITION BY f.ingredient_id ORDER BY f.row_id DESC) = 1;

CREATE VIEW measure_now AS
SELECT m.* FROM measure m
ANTI JOIN retraction r ON r.row_id = m.row_id
QUALIFY row_number() OVER (PARTITION BY m.ingredient_id, m.measure_key ORDER BY m.row_id DESC) = 1;

CREATE VIEW observation_now AS
SELECT o.* FROM observation o ANTI JOIN retraction r ON r.row_id = o.row_id;

CREATE VIEW dish_version_now AS
SELECT v.*, d.name AS dish, d.name_key AS dish_key
FROM dish_version v JOIN dish d USING (dish_id)
ANTI JOIN retraction r ON r.row_id = v.row_id
QUALIFY row_number() OVER (PARTITION BY v.dish_id, v.version ORDER BY v.row_id DESC) = 1;

CREATE VIEW swap_now AS
SELECT s.* FROM swap s ANTI JOIN retraction r ON r.row_id = s.row_id
QUALIFY row_number() OVER (PARTITION BY s.ingredient_id, s.substitute_id ORDER BY s.row_id DESC) = 1;

CREATE VIEW claim_now AS
SELECT c.* FROM claim c ANTI JOIN retraction r ON r.row_id = c.row_id;

CREATE VIEW series_now AS
SELECT s.* FROM series s ANTI JOIN retraction r ON r.row_id = s.row_id
QUALIFY row_number() OVER (PARTITION BY s.series ORDER BY s.row_id DESC) = 1;

CREATE VIEW series_value_now AS             -- the latest release of each month
SELECT v.* FROM series_value v ANTI JOIN retraction r ON r.row_id = v.row_id
QUALIFY row_number() OVER (PARTITION BY v.series, v.month
                           ORDER BY v.released_on DESC NULLS LAST, v.row_id DESC) = 1;

CREATE VIEW setting_now AS
SELECT name, arg_max(value, row_id) AS value FROM setting GROUP BY name;

-- An amount of an ingredient in its base unit. The one place where this rule is written in SQL;
-- pricing/measures.py:in_base is its Python form, for previews. NULL = a fact is missing.
CREATE MACRO in_base(amount, dimension, grams_each_measure, base, density, grams_each) AS
CASE
    WHEN dimension = base THEN amount::DOUBLE
    WHEN base = 'g' THEN CASE dimension
        WHEN 'measure' THEN amount::DOUBLE * grams_each_measure::DOUBLE
        WHEN 'ml'      THEN amount::DOUBLE * density::DOUBLE
        WHEN 'each'    THEN amount::DOUBLE * grams_each::DOUBLE END
    WHEN base = 'ml' THEN CASE dimension
        WHEN 'measure' THEN amount::DOUBLE * grams_each_measure::DOUBLE / density::DOUBLE
        WHEN 'g'       THEN amount::DOUBLE / density::DOUBLE
        WHEN 'each'    THEN amount::DOUBLE * grams_each::DOUBLE / density::DOUBLE END
    WHEN base = 'each' THEN CASE dimension
        WHEN 'measure' THEN amount::DOUBLE * grams_each_measure::DOUBLE / grams_each::DOUBLE
        WHEN 'g'       THEN amount::DOUBLE / grams_each::DOUBLE
        WHEN 'ml'      THEN amount::DOUBLE * density::DOUBLE / grams_each::DOUBLE END
END;

-- append-only
-- A trigger's body must be a data statement, so it inserts the outcome of error() into this table.
CREATE TABLE refusal (why VARCHAR);
CREATE TRIGGER setting_never_edited AFTER UPDATE ON setting FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of setting are never edited: retract and append');
CREATE TRIGGER setting_never_deleted AFTER DELETE ON setting FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of setting are never deleted: retract and append');
CREATE TRIGGER load_batch_never_edited AFTER UPDATE ON load_batch FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of load_batch are never edited: retract and append');
CREATE TRIGGER load_batch_never_deleted AFTER DELETE ON load_batch FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of load_batch are never deleted: retract and append');
CREATE TRIGGER retraction_never_edited AFTER UPDATE ON retraction FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of retraction are never edited: retract and append');
CREATE TRIGGER retraction_never_deleted AFTER DELETE ON retraction FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of retraction are never deleted: retract and append');
CREATE TRIGGER ingredient_never_edited AFTER UPDATE ON ingredient FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of ingredient are never edited: retract and append');
CREATE TRIGGER ingredient_never_deleted AFTER DELETE ON ingredient FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of ingredient are never deleted: retract and append');
CREATE TRIGGER dish_never_edited AFTER UPDATE ON dish FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of dish are never edited: retract and append');
CREATE TRIGGER dish_never_deleted AFTER DELETE ON dish FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of dish are never deleted: retract and append');
CREATE TRIGGER ingredient_fact_never_edited AFTER UPDATE ON ingredient_fact FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of ingredient_fact are never edited: retract and append');
CREATE TRIGGER ingredient_fact_never_deleted AFTER DELETE ON ingredient_fact FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of ingredient_fact are never deleted: retract and append');
CREATE TRIGGER measure_never_edited AFTER UPDATE ON measure FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of measure are never edited: retract and append');
CREATE TRIGGER measure_never_deleted AFTER DELETE ON measure FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of measure are never deleted: retract and append');
CREATE TRIGGER observation_never_edited AFTER UPDATE ON observation FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of observation are never edited: retract and append');
CREATE TRIGGER observation_never_deleted AFTER DELETE ON observation FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of observation are never deleted: retract and append');
CREATE TRIGGER dish_version_never_edited AFTER UPDATE ON dish_version FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of dish_version are never edited: retract and append');
CREATE TRIGGER dish_version_never_deleted AFTER DELETE ON dish_version FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of dish_version are never deleted: retract and append');
CREATE TRIGGER dish_line_never_edited AFTER UPDATE ON dish_line FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of dish_line are never edited: retract and append');
CREATE TRIGGER dish_line_never_deleted AFTER DELETE ON dish_line FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of dish_line are never deleted: retract and append');
CREATE TRIGGER swap_never_edited AFTER UPDATE ON swap FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of swap are never edited: retract and append');
CREATE TRIGGER swap_never_deleted AFTER DELETE ON swap FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of swap are never deleted: retract and append');
CREATE TRIGGER claim_never_edited AFTER UPDATE ON claim FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of claim are never edited: retract and append');
CREATE TRIGGER claim_never_deleted AFTER DELETE ON claim FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of claim are never deleted: retract and append');
CREATE TRIGGER series_never_edited AFTER UPDATE ON series FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of series are never edited: retract and append');
CREATE TRIGGER series_never_deleted AFTER DELETE ON series FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of series are never deleted: retract and append');
CREATE TRIGGER series_value_never_edited AFTER UPDATE ON series_value FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of series_value are never edited: retract and append');
CREATE TRIGGER series_value_never_deleted AFTER DELETE ON series_value FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of series_value are never deleted: retract and append');
