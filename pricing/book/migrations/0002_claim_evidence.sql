-- What a published figure rested on when it was recorded: the whole costing as it was told that day,
-- frozen as text. Prices may be corrected since, and recipes replaced; this text stays.

CREATE TABLE claim_evidence (
    row_id           BIGINT PRIMARY KEY DEFAULT nextval('next_row_id'),
    batch            INTEGER NOT NULL,
    line             INTEGER,
    raw              VARCHAR,
    claim_row        BIGINT NOT NULL,        -- claim.row_id
    recorded_at      TIMESTAMP NOT NULL,     -- UTC
    evidence         VARCHAR NOT NULL,       -- JSON: the costing, the prices, the index values
    evidence_sha256  VARCHAR NOT NULL,
    CHECK (evidence_sha256 = sha256(evidence))
);

CREATE VIEW claim_evidence_now AS            -- the first that was recorded of a claim in force
SELECT e.* FROM claim_evidence e
JOIN claim_now c ON c.row_id = e.claim_row
ANTI JOIN retraction r ON r.row_id = e.row_id
QUALIFY row_number() OVER (PARTITION BY e.claim_row ORDER BY e.row_id) = 1;

CREATE TRIGGER claim_evidence_never_edited AFTER UPDATE ON claim_evidence FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of claim_evidence are never edited: retract and append');
CREATE TRIGGER claim_evidence_never_deleted AFTER DELETE ON claim_evidence FOR EACH STATEMENT
    INSERT INTO refusal SELECT error('rows of claim_evidence are never deleted: retract and append');
