-- A plant put straight in comes out again: when, how, and what it then weighed.

ALTER TABLE addition ADD COLUMN out_at TEXT;
ALTER TABLE addition ADD COLUMN out_by TEXT NOT NULL DEFAULT '' CHECK (out_by IN ('', 'drained', 'squeezed', 'pressed'));
ALTER TABLE addition ADD COLUMN spent_g REAL CHECK (spent_g > 0);
