-- What waits for a decision: lines of price lists, receipts and invoices whose words no ingredient goes
-- by. The decisions; what they settled; and the layouts by which the tables of a sender are read.
-- A recipe line that waits stands in its dish under a name of its own, "waiting: WORDS", which has no
-- facts: so the dish is "at least" until someone decides.

CREATE TEMP TABLE kept_load AS FROM load_batch;
DROP TABLE load_batch;
CREATE TABLE load_batch (
    batch        INTEGER PRIMARY KEY,
    kind         VARCHAR NOT NULL CHECK (kind IN
                 ('ingredients', 'measures', 'prices', 'dishes', 'swaps', 'printed', 'index', 'decisions')),
    file_name    VARCHAR NOT NULL,          -- name only; "by hand" and "bundled" are not files
    file_sha256  VARCHAR NOT NULL,
    loaded_at    TIMESTAMP NOT NULL,
    added        INTEGER NOT NULL,          -- data rows
    already      INTEGER NOT NULL,          -- data rows that the book held
    rows_sha256  VARCHAR NOT NULL           -- of the rows as stored, so that `check` sees a changed byte
);
INSERT INTO load_batch FROM kept_load ORDER BY batch;
DROP TABLE kept_load;

CREATE TABLE tray_line (                    -- a price whose ingredient or pack is not known yet
    row_id       BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch        INTEGER NOT NULL,
    line         INTEGER,
    raw          VARCHAR,
    sender       VARCHAR,                   -- who wrote the words: a shop, a supplier
    sender_key   VARCHAR NOT NULL,          -- '' when blank
    words        VARCHAR NOT NULL,          -- as written
    words_key    VARCHAR NOT NULL,
    item_number  VARCHAR,                   -- the sender's
    gtin         VARCHAR,
    observed_on  DATE NOT NULL,
    price        DECIMAL(18, 4) NOT NULL CHECK (price > 0),     -- of `packs` packs
    packs        DECIMAL(18, 6) NOT NULL CHECK (packs > 0),
    pack         VARCHAR,                   -- of one, where a column or a unit states it
    unit         VARCHAR,                   -- what `packs` counts, where it is no pack: each, box
    currency     VARCHAR NOT NULL,
    price_kind   VARCHAR NOT NULL CHECK (price_kind IN
                 ('shelf', 'offer', 'receipt', 'invoice', 'quote')),
    tax_pct      DECIMAL(9, 4) CHECK (tax_pct >= 0),
    region       VARCHAR,
    product      VARCHAR,
    source       VARCHAR,
    note         VARCHAR
);

CREATE TABLE decision (
    row_id         BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch          INTEGER NOT NULL,
    line           INTEGER,
    raw            VARCHAR,
    sender         VARCHAR,                 -- NULL: whoever writes these words
    sender_key     VARCHAR NOT NULL,
    words          VARCHAR NOT NULL,
    words_key      VARCHAR NOT NULL,
    ingredient_id  INTEGER,                 -- NULL: not an ingredient
    pack           VARCHAR,                 -- of one, where the words do not say it
    product        VARCHAR
);

CREATE TABLE tray_settled (                 -- lines of the tray that a load of decisions settled
    row_id    BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch     INTEGER NOT NULL,
    line      INTEGER,
    raw       VARCHAR,
    tray_row  BIGINT NOT NULL               -- tray_line.row_id
);

CREATE TABLE layout (                       -- how tables with the same headings are read
    row_id       BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch        INTEGER NOT NULL,
    line         INTEGER,
    raw          VARCHAR,
    fingerprint  VARCHAR NOT NULL,          -- of the headings
    kind         VARCHAR NOT NULL,          -- of the file
    sender       VARCHAR,
    layout       VARCHAR NOT NULL           -- JSON
);

CREATE VIEW decision_now AS
SELECT d.* FROM decision d ANTI JOIN retraction r ON r.row_id = d.row_id
QUALIFY row_number() OVER (PARTITION BY d.sender_key, d.words_key ORDER BY d.row_id DESC) = 1;

CREATE VIEW layout_now AS
SELECT l.* FROM layout l ANTI JOIN retraction r ON r.row_id = l.row_id
QUALIFY row_number() OVER (PARTITION BY l.fingerprint, l.kind ORDER BY l.row_id DESC) = 1;

CREATE VIEW tray_line_now AS
SELECT t.* FROM tray_line t ANTI JOIN retraction r ON r.row_id = t.row_id;

CREATE VIEW tray_waiting AS
SELECT t.* FROM tray_line_now t
ANTI JOIN (SELECT s.tray_row FROM tray_settled s ANTI JOIN retraction r ON r.row_id = s.row_id) s
       ON s.tray_row = t.row_id;

CREATE OR REPLACE VIEW dish_line_bought AS  -- recipe lines, each turned into what must be bought
SELECT l.*, n.name AS ingredient, i.base, i.allergens,
       CASE WHEN l.state = 'edible' THEN coalesce(l.yield_pct, i.yield_pct)::DOUBLE ELSE 100 END
           AS used_pct,                     -- of what is bought; NULL = a yield is missing
       in_base(l.amount, l.dimension, m.grams, i.base, i.density_g_per_ml, i.grams_each)
           / (used_pct / 100)
           AS as_purchased,                 -- in base, per batch; NULL for a sub-recipe, too
       100 / used_pct AS trim               -- bought per unit needed
FROM dish_line l
LEFT JOIN ingredient n ON n.ingredient_id = l.ingredient_id     -- what waits has a name and no facts
LEFT JOIN ingredient_now i ON i.ingredient_id = l.ingredient_id
LEFT JOIN measure_now m ON m.ingredient_id = l.ingredient_id AND m.measure_key = l.measure_key;

CREATE TRIGGER load_batch_never_edited AFTER UPDATE ON load_batch FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of load_batch are never edited: retract and append');
CREATE TRIGGER load_batch_never_deleted AFTER DELETE ON load_batch FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of load_batch are never deleted: retract and append');
CREATE TRIGGER tray_line_never_edited AFTER UPDATE ON tray_line FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of tray_line are never edited: retract and append');
CREATE TRIGGER tray_line_never_deleted AFTER DELETE ON tray_line FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of tray_line are never deleted: retract and append');
CREATE TRIGGER decision_never_edited AFTER UPDATE ON decision FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of decision are never edited: retract and append');
CREATE TRIGGER decision_never_deleted AFTER DELETE ON decision FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of decision are never deleted: retract and append');
CREATE TRIGGER tray_settled_never_edited AFTER UPDATE ON tray_settled FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of tray_settled are never edited: retract and append');
CREATE TRIGGER tray_settled_never_deleted AFTER DELETE ON tray_settled FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of tray_settled are never deleted: retract and append');
CREATE TRIGGER layout_never_edited AFTER UPDATE ON layout FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of layout are never edited: retract and append');
CREATE TRIGGER layout_never_deleted AFTER DELETE ON layout FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of layout are never deleted: retract and append');
