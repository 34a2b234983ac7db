-- Printed figures, which were called claims before. They keep their rows, their evidence and the loads
-- that brought them; a load of claims is one of printed figures. New is the day whose prices a figure
-- rests on, and the words in which it was printed. Tables are made anew with the rows they held.

CREATE TEMP TABLE kept_figure AS FROM claim;
CREATE TEMP TABLE kept_evidence AS FROM claim_evidence;
CREATE TEMP TABLE kept_load AS FROM load_batch;
DROP VIEW claim_evidence_now;
DROP VIEW claim_now;
DROP TABLE claim_evidence;
DROP TABLE claim;
DROP TABLE load_batch;

CREATE TABLE load_batch (
    batch        INTEGER PRIMARY KEY,
    kind         VARCHAR NOT NULL CHECK (kind IN
                 ('ingredients', 'measures', 'prices', 'dishes', 'swaps', 'printed', 'index')),
    file_name    VARCHAR NOT NULL,          -- name only; "by hand" and "bundled" are not files
    file_sha256  VARCHAR NOT NULL,
    loaded_at    TIMESTAMP NOT NULL,
    added        INTEGER NOT NULL,          -- data rows
    already      INTEGER NOT NULL,          -- data rows that the book held
    rows_sha256  VARCHAR NOT NULL           -- of the rows as stored, so that `check` sees a changed byte
);
INSERT INTO load_batch
SELECT * REPLACE (if(kind = 'claims', 'printed', kind) AS kind) FROM kept_load ORDER BY batch;
DROP TABLE kept_load;

CREATE TABLE printed_figure (
    row_id            BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch             INTEGER NOT NULL,
    line              INTEGER,
    raw               VARCHAR,
    dish_id           INTEGER NOT NULL,
    version           VARCHAR NOT NULL,
    published_on      DATE NOT NULL,        -- may lie ahead: the issue is not out yet
    cost_per_portion  DECIMAL(18, 4) NOT NULL CHECK (cost_per_portion > 0),
    currency          VARCHAR NOT NULL,
    published_where   VARCHAR,
    note              VARCHAR
);
INSERT INTO printed_figure FROM kept_figure ORDER BY row_id;
DROP TABLE kept_figure;

CREATE TABLE printed_detail (               -- what figures recorded before this step do not have
    row_id      BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch       INTEGER NOT NULL,
    line        INTEGER,
    raw         VARCHAR,
    figure_row  BIGINT NOT NULL,            -- printed_figure.row_id
    costed_on   DATE NOT NULL,              -- the day whose prices it rests on
    as_printed  VARCHAR                     -- where it says more than a number: "about 3.50"
);

CREATE TABLE printed_evidence (             -- what a figure rested on when it was recorded, as text
    row_id           BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch            INTEGER NOT NULL,
    line             INTEGER,
    raw              VARCHAR,
    figure_row       BIGINT NOT NULL,       -- printed_figure.row_id
    recorded_at      TIMESTAMP NOT NULL,    -- UTC
    evidence         VARCHAR NOT NULL,      -- JSON: the costing, the prices, the index values
    evidence_sha256  VARCHAR NOT NULL,
    CHECK (evidence_sha256 = sha256(evidence))
);
INSERT INTO printed_evidence FROM kept_evidence ORDER BY row_id;
DROP TABLE kept_evidence;

CREATE VIEW printed_now AS                  -- without a day of its own: that of publication
SELECT p.*, coalesce(d.costed_on, p.published_on) AS costed_on, d.as_printed
FROM printed_figure p
LEFT JOIN printed_detail d ON d.figure_row = p.row_id
ANTI JOIN retraction r ON r.row_id = p.row_id;

CREATE VIEW printed_evidence_now AS         -- the first that was recorded of a figure in force
SELECT e.* FROM printed_evidence e
JOIN printed_now p ON p.row_id = e.figure_row
ANTI JOIN retraction r ON r.row_id = e.row_id
QUALIFY row_number() OVER (PARTITION BY e.figure_row ORDER BY e.row_id) = 1;

CREATE TRIGGER load_batch_never_edited AFTER UPDATE ON load_batch FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of load_batch are never edited: retract and append');
CREATE TRIGGER load_batch_never_deleted AFTER DELETE ON load_batch FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of load_batch are never deleted: retract and append');
CREATE TRIGGER printed_figure_never_edited AFTER UPDATE ON printed_figure FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of printed_figure are never edited: retract and append');
CREATE TRIGGER printed_figure_never_deleted AFTER DELETE ON printed_figure FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of printed_figure are never deleted: retract and append');
CREATE TRIGGER printed_detail_never_edited AFTER UPDATE ON printed_detail FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of printed_detail are never edited: retract and append');
CREATE TRIGGER printed_detail_never_deleted AFTER DELETE ON printed_detail FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of printed_detail are never deleted: retract and append');
CREATE TRIGGER printed_evidence_never_edited AFTER UPDATE ON printed_evidence FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of printed_evidence are never edited: retract and append');
CREATE TRIGGER printed_evidence_never_deleted AFTER DELETE ON printed_evidence FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of printed_evidence are never deleted: retract and append');
