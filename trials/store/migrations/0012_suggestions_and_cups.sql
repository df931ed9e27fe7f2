-- The last suggestion of each material as it was given. It answers and records
-- nothing that was done: it stands outside the journal, so that undo after it
-- takes back the last write of the brewer.

CREATE TABLE suggestion (
  id           TEXT PRIMARY KEY,
  material_key TEXT NOT NULL UNIQUE,
  at           TEXT NOT NULL,
  text         TEXT NOT NULL,
  verdict      TEXT NOT NULL,
  method       TEXT NOT NULL,
  dose_g_per_l REAL CHECK (dose_g_per_l > 0),
  volume_l     REAL CHECK (volume_l > 0)
) STRICT;

-- A tasting done by one person alone: the codes stand under the cups, and are read
-- once all is scored by place.

ALTER TABLE tasting ADD COLUMN alone INTEGER NOT NULL DEFAULT 0 CHECK (alone IN (0, 1));
ALTER TABLE tasting ADD COLUMN places_read_at TEXT;
