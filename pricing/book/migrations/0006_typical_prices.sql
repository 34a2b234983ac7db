-- What each source asked, in each market, and the typical price of every day of news are kept. All of
-- it is derived from the observations and the official series; it is derived anew after this step.
-- A source is one supplier and product of one ingredient in one currency and market. `any` holds both
-- markets as one, for the ingredients that are seen in both.

DROP TABLE stream_day;
DROP TABLE stream;

CREATE TABLE source (
    source_id      INTEGER PRIMARY KEY,
    ingredient_id  INTEGER NOT NULL,
    currency       VARCHAR NOT NULL,
    market         VARCHAR NOT NULL CHECK (market IN ('shop', 'trade', 'any')),
    supplier_key   VARCHAR NOT NULL,        -- '' when blank
    product_key    VARCHAR NOT NULL,
    supplier       VARCHAR,                 -- as first written
    product        VARCHAR
);

CREATE TABLE source_day (                   -- median unit price of a source on a day it was seen
    ingredient_id  INTEGER NOT NULL,
    source_id      INTEGER NOT NULL,
    observed_on    DATE NOT NULL,
    unit_price     DOUBLE NOT NULL          -- currency per g, ml or each, as purchased
);

CREATE TABLE typical_day (                  -- typical price of an ingredient on a day it was seen
    ingredient_id  INTEGER NOT NULL,
    currency       VARCHAR NOT NULL,
    market         VARCHAR NOT NULL,
    observed_on    DATE NOT NULL,
    next_on        DATE,                    -- the next such day
    unit_price     DOUBLE NOT NULL,         -- older prices moved by the official series
    moved_share    DOUBLE NOT NULL,         -- of it, by value, that rests on prices so moved
    as_seen        DOUBLE NOT NULL          -- no price moved
);

-- in which market a price was seen
CREATE MACRO market_of(kind) AS CASE WHEN kind IN ('invoice', 'quote') THEN 'trade' ELSE 'shop' END;

-- A sum of doubles that does not depend on their order: of whole numbers of 1e-21. Sums up to 1e17.
CREATE MACRO exact_sum(x) AS sum(CAST(x * 1e21 AS HUGEINT))::DOUBLE / 1e21;
