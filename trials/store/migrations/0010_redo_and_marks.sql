-- Writes that were taken back stay in the journal until something new is written,
-- so that they can be done again. What cannot be undone, such as that a key was
-- seen, is a mark: it stands outside the journal.

ALTER TABLE journal_write ADD COLUMN undone INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1));

CREATE TABLE mark (
  id         TEXT PRIMARY KEY,
  tasting_id TEXT NOT NULL, -- no reference: a mark outlasts a tasting that is taken back
  kind       TEXT NOT NULL CHECK (kind IN ('peeked', 'closed', 'poured', 'scored')),
  at         TEXT NOT NULL,
  count      INTEGER NOT NULL CHECK (count > 0) -- how many scores changed; 1 for the other kinds
) STRICT;

INSERT INTO mark (id, tasting_id, kind, at, count)
SELECT lower(hex(randomblob(13))), id, 'peeked', peeked_at, 1 FROM tasting WHERE peeked_at IS NOT NULL;
INSERT INTO mark (id, tasting_id, kind, at, count)
SELECT lower(hex(randomblob(13))), id, 'closed', closed_at, 1 FROM tasting WHERE closed_at IS NOT NULL;
