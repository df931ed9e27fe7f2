-- The journal as data. For each row that a write changed it holds the table, the
-- key of the row and its columns before and after as JSON; never a statement.
-- Statements of the journal as it was are not read any more, not even once: the
-- writes before this version keep their words and are marked as lost to undo.

ALTER TABLE journal_write ADD COLUMN lost INTEGER NOT NULL DEFAULT 0 CHECK (lost IN (0, 1));
UPDATE journal_write SET lost = 1;

DROP TABLE journal_step;

CREATE TABLE journal_step (
  step_id    INTEGER PRIMARY KEY,
  write_id   INTEGER NOT NULL REFERENCES journal_write (write_id) ON DELETE CASCADE,
  in_table   TEXT NOT NULL,
  row_key    TEXT NOT NULL,
  row_before TEXT CHECK (json_valid(row_before)), -- NULL for a row that is new
  row_after  TEXT CHECK (json_valid(row_after)),  -- NULL for a row that went
  CHECK (row_before IS NOT NULL OR row_after IS NOT NULL)
) STRICT;

CREATE INDEX journal_step_write ON journal_step (write_id);
