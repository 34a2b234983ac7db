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

-- The values that count of some series (NULL: of all): the latest release of each month, links put
-- together. The same rule as before, asked for the series that a question needs.
CREATE MACRO series_values_of(names) AS TABLE
WITH released AS (
    SELECT v.row_id, v.batch, v.line, v.raw, v.series, v.month, v.value, v.released_on
    FROM series_value v WHERE names IS NULL OR v.series IN (SELECT unnest(names))
    UNION ALL
    SELECT v.row_id, v.batch, v.line, v.raw, p.series, v.month, v.value * p.factor, v.released_on
    FROM series_part_now p JOIN series_value v ON v.series = p.source
    WHERE (names IS NULL OR p.series IN (SELECT unnest(names)))
      AND (p.from_month IS NULL OR v.month >= p.from_month)
      AND (p.before_month IS NULL OR v.month < p.before_month)
)
SELECT v.* FROM released v ANTI JOIN retraction r ON r.row_id = v.row_id
QUALIFY row_number() OVER (PARTITION BY v.series, v.month
                           ORDER BY v.released_on DESC NULLS LAST, v.row_id DESC) = 1;
CREATE OR REPLACE VIEW series_value_now AS FROM series_values_of(NULL::VARCHAR[]);

-- A sum of doubles that does not depend on their order: of whole numbers of 1e-21. Sums up to 1e17.
CREATE MACRO exact_sum(x) AS sum(CAST(x * 1e21 AS HUGEINT))::DOUBLE / 1e21;

-- How far a mean of what several sources asked may be off: its standard error (the ratio estimator of
-- W. G. Cochran, Sampling Techniques, 3rd ed. 1977, section 6.3, with n/(n - 1) for a small sample).
-- NULL where one source alone stands behind it. seen: the list of which_price_counts.sql; typical: its mean.
CREATE MACRO standard_error(seen, typical) AS CASE WHEN len(seen) > 1 THEN
    sqrt(len(seen) / (len(seen) - 1) * list_sum(list_transform(
        seen, lambda s: pow(s.weight * (s.unit_price * s.moved - typical), 2))))
    / list_sum(list_transform(seen, lambda s: s.weight)) END;

-- The same as a share of the price, of one between two days by how near it is to each (`towards` the
-- later: 0 to 1), for the sources are mostly the same.
CREATE MACRO spread_of(seen, seen_later, u0, u1, towards) AS
    CASE WHEN standard_error(seen, u0) IS NOT NULL OR standard_error(seen_later, u1) IS NOT NULL
    THEN (1 - towards) * coalesce(standard_error(seen, u0) / u0, 0)
         + towards * coalesce(standard_error(seen_later, u1) / u1, 0) END;

-- What came of holding prices out. It is measured anew by the renewed rule (`index check`).
DROP VIEW bridge_check_now;
DROP TABLE bridge_check;
CREATE TABLE bridge_check (
    row_id        BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    run           INTEGER NOT NULL,
    checked_at    TIMESTAMP NOT NULL,       -- UTC
    ends          VARCHAR NOT NULL CHECK (ends IN ('fresh', 'two', 'one')),  -- counted as seen; moved from
    up_to_months  INTEGER,                  -- gap length; NULL: longer than all the others, or fresh
    cases         INTEGER NOT NULL CHECK (cases > 0),
    bridge_pct    DOUBLE NOT NULL,          -- median absolute errors, in % of the price held out
    hold_pct      DOUBLE NOT NULL,
    line_pct      DOUBLE NOT NULL,
    moved_pct     DOUBLE NOT NULL,          -- of the price: what the move alone leaves open
    spread_times  DOUBLE NOT NULL           -- standard errors of the mean of the sources, beside it
);
CREATE VIEW bridge_check_now AS
SELECT * FROM bridge_check WHERE run = (SELECT max(run) FROM bridge_check);
CREATE TRIGGER bridge_check_never_edited AFTER UPDATE ON bridge_check FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of bridge_check are never edited: retract and append');
CREATE TRIGGER bridge_check_never_deleted AFTER DELETE ON bridge_check FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of bridge_check are never deleted: retract and append');
