-- Every write of the journal carries a digest of its words, its time and its steps, and
-- how many these are: what another program changes later is noted behind them. A row that a write made is no longer written down a second time: it stands in its
-- table, and comes here when it is taken back, so that it can be made again.

ALTER TABLE journal_write ADD COLUMN digest INTEGER;
ALTER TABLE journal_write ADD COLUMN steps INTEGER;

CREATE TABLE journal_step_new (
  step_id    INTEGER PRIMARY KEY,
  write_id   INTEGER NOT NULL REFERENCES journal_write (write_id) ON DELETE CASCADE,
  in_table   TEXT NOT NULL,
  row_key    TEXT NOT NULL,
  row_before TEXT CHECK (json_valid(row_before)), -- NULL for a row that is new
  row_after  TEXT CHECK (json_valid(row_after))   -- NULL for a row that went, and for a new one until it is taken back
) STRICT;

INSERT INTO journal_step_new SELECT step_id, write_id, in_table, row_key, row_before,
  CASE WHEN row_before IS NULL AND NOT undone THEN NULL ELSE row_after END
FROM journal_step JOIN journal_write USING (write_id);
DROP TABLE journal_step;
ALTER TABLE journal_step_new RENAME TO journal_step;
CREATE INDEX journal_step_write ON journal_step (write_id);
