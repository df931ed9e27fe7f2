-- A row that a write changed stands in its table as it is now: the journal keeps it as
-- it was before, and the mark null after, until it is taken back.

UPDATE journal_step SET row_after = 'null' WHERE row_before IS NOT NULL AND row_after IS NOT NULL
  AND write_id IN (SELECT write_id FROM journal_write WHERE NOT undone);
UPDATE journal_write SET digest = NULL, steps = NULL;
