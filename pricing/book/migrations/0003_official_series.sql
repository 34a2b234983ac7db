-- Official series of any office: what an office says beside its values, series made of others by a
-- link or a new reference period, the very bytes that were fetched, and how far bridges were off when
-- observed prices were held out. Appended, never edited, like everything else.

CREATE TABLE series_detail (
    row_id      BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch       INTEGER NOT NULL,
    line        INTEGER,
    raw         VARCHAR,
    series      VARCHAR NOT NULL,
    base_label  VARCHAR,                    -- index reference period as the office writes it: 2015=100
    frequency   VARCHAR CHECK (frequency IN ('monthly', 'quarterly')),
                                            -- quarterly: each month carries the value of its quarter
    note        VARCHAR
);

-- A series without values of its own: from from_month on (NULL: from its beginning) and before
-- before_month (NULL: to its end) it is the source's value times factor.
CREATE TABLE series_part (
    row_id        BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch         INTEGER NOT NULL,
    line          INTEGER,
    raw           VARCHAR,
    series        VARCHAR NOT NULL,
    source        VARCHAR NOT NULL,
    factor        DOUBLE NOT NULL CHECK (factor > 0),
    from_month    DATE,
    before_month  DATE
);

-- How two series were joined: newer ÷ older over the months both have. older = newer: re-referenced.
CREATE TABLE series_link (
    row_id       BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch        INTEGER NOT NULL,
    line         INTEGER,
    raw          VARCHAR,
    series       VARCHAR NOT NULL,          -- the series that came of it
    older        VARCHAR NOT NULL,
    newer        VARCHAR NOT NULL,
    first_month  DATE NOT NULL,             -- of the overlap, or of the reference period
    last_month   DATE NOT NULL,
    factor       DOUBLE NOT NULL CHECK (factor > 0),   -- the older series is multiplied by it
    spread_pct   DOUBLE NOT NULL CHECK (spread_pct >= 0),  -- (highest ÷ lowest monthly ratio − 1) × 100
    approximate  BOOLEAN NOT NULL,          -- the two do not cover the same goods
    reason       VARCHAR
);

CREATE TABLE fetched (
    fetched_id  INTEGER PRIMARY KEY,
    batch       INTEGER NOT NULL,           -- the load that its values came in with
    office      VARCHAR NOT NULL,
    url         VARCHAR NOT NULL,           -- without keys
    fetched_at  TIMESTAMP NOT NULL,         -- UTC
    sha256      VARCHAR NOT NULL,           -- of the bytes as received
    size_bytes  INTEGER NOT NULL,           -- as received
    content     BLOB NOT NULL               -- those bytes, compressed (zlib)
);

-- Outcome of a check of bridges over the whole book; the last run counts.
CREATE TABLE bridge_check (
    row_id        BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    run           INTEGER NOT NULL,
    checked_at    TIMESTAMP NOT NULL,       -- UTC
    ends          VARCHAR NOT NULL CHECK (ends IN ('two', 'one')),  -- observations bridged from
    up_to_months  INTEGER,                  -- gap length; NULL: longer than all the others
    cases         INTEGER NOT NULL CHECK (cases > 0),
    bridge_pct    DOUBLE NOT NULL,          -- median absolute errors, in % of the price held out
    hold_pct      DOUBLE NOT NULL,
    line_pct      DOUBLE NOT NULL
);

CREATE VIEW series_detail_now AS
SELECT d.* FROM series_detail d ANTI JOIN retraction r ON r.row_id = d.row_id
QUALIFY row_number() OVER (PARTITION BY d.series ORDER BY d.row_id DESC) = 1;

CREATE VIEW series_link_now AS
SELECT l.* FROM series_link l ANTI JOIN retraction r ON r.row_id = l.row_id
QUALIFY row_number() OVER (PARTITION BY l.series ORDER BY l.row_id DESC) = 1;

CREATE VIEW series_part_now AS              -- the parts of the last making of each series
SELECT p.* FROM series_part p ANTI JOIN retraction r ON r.row_id = p.row_id
QUALIFY p.batch = max(p.batch) OVER (PARTITION BY p.series);

-- The latest release of each month, of the series with values of their own and of those made of them.
CREATE OR REPLACE VIEW series_value_now AS
WITH released AS (
    SELECT v.row_id, v.batch, v.line, v.raw, v.series, v.month, v.value, v.released_on
    FROM series_value v
    UNION ALL
    SELECT v.row_id, v.batch, v.line, v.raw, p.series, v.month, v.value * p.factor, v.released_on
    FROM series_part_now p JOIN series_value v ON v.series = p.source
    WHERE (p.from_month IS NULL OR v.month >= p.from_month)
      AND (p.before_month IS NULL OR v.month < p.before_month)
)
SELECT v.* FROM released v ANTI JOIN retraction r ON r.row_id = v.row_id
QUALIFY row_number() OVER (PARTITION BY v.series, v.month
                           ORDER BY v.released_on DESC NULLS LAST, v.row_id DESC) = 1;

CREATE VIEW bridge_check_now AS
SELECT * FROM bridge_check WHERE run = (SELECT max(run) FROM bridge_check);

CREATE TRIGGER series_detail_never_edited AFTER UPDATE ON series_detail FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of series_detail are never edited: retract and append');
CREATE TRIGGER series_detail_never_deleted AFTER DELETE ON series_detail FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of series_detail are never deleted: retract and append');
CREATE TRIGGER series_part_never_edited AFTER UPDATE ON series_part FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of series_part are never edited: retract and append');
CREATE TRIGGER series_part_never_deleted AFTER DELETE ON series_part FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of series_part are never deleted: retract and append');
CREATE TRIGGER series_link_never_edited AFTER UPDATE ON series_link FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of series_link are never edited: retract and append');
CREATE TRIGGER series_link_never_deleted AFTER DELETE ON series_link FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of series_link are never deleted: retract and append');
CREATE TRIGGER fetched_never_edited AFTER UPDATE ON fetched FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of fetched are never edited: retract and append');
CREATE TRIGGER fetched_never_deleted AFTER DELETE ON fetched FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of fetched are never deleted: retract and append');
CREATE TRIGGER bridge_check_never_edited AFTER UPDATE ON bridge_check FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of bridge_check are never edited: retract and append');
CREATE TRIGGER bridge_check_never_deleted AFTER DELETE ON bridge_check FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of bridge_check are never deleted: retract and append');
