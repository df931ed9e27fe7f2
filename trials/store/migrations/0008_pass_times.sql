-- When the liquid of a pass came out, and when the pass was written down: a pour
-- takes from what existed at its time. Of passes that were logged before this no
-- time is known; they count as logged with their extract, so that all that was
-- poured took from all of them, as it was reckoned then. The default, the first
-- moment of all, does the same for rows that undo brings back from before.

ALTER TABLE pass ADD COLUMN ended_at TEXT;
ALTER TABLE pass ADD COLUMN logged_at TEXT NOT NULL DEFAULT '0001-01-01T00:00:00.000000000Z';
UPDATE pass SET logged_at = (SELECT created_at FROM extract WHERE extract.id = pass.extract_id);
